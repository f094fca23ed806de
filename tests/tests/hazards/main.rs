//! Nothing that could hurt somebody passes in silence.

mod own;
mod written;

//! Nothing that could hurt somebody passes in silence.

mod strict;
mod written;

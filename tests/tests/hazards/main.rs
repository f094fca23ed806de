//! Nothing that could hurt somebody passes in silence.

mod sheets;
mod strict;
mod written;

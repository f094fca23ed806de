//! What no input may do, whoever wrote it.

mod extreme;
mod hostile;
mod saved;
mod stopping;

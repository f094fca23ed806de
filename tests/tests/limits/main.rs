//! What no input may do, whoever wrote it.

mod hostile;
mod saved;

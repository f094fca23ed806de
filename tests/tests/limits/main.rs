//! What no input may do, whoever wrote it.

mod evenings;
mod extreme;
mod fuzz;
mod hostile;
mod judge;
mod menus;
mod saved;
mod stopping;

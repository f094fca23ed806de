//! The command and everything it prints.

mod ask_commands;
mod calm;
mod demo;
mod formats;
mod formats_fuzz;
mod help;
mod marks;
mod paper;
mod questions;
mod runs;
mod schema;

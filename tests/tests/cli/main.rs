//! The command and everything it prints.

mod ask_commands;
mod back;
mod batch;
mod calm;
mod demo;
mod described;
mod formats;
mod formats_fuzz;
mod help;
mod marks;
mod paper;
mod programs;
mod questions;
mod runs;
mod schema;
mod show;

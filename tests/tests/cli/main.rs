//! The command and everything it prints.

mod ask_commands;
mod formats;
mod formats_fuzz;
mod help;
mod marks;
mod runs;
mod schema;

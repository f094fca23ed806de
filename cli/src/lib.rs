//! The faces of Rangewright: commands, source excerpts and renderers. It decides nothing about a plan.
//!
//! [`run`] is the whole command: arguments and an [`Io`] in, an [`Exit`] out. The binary hands it the real terminal; tests
//! hand it buffers, a clock that stands still and a terminal of any width.

mod args;
mod calendar;
mod command;
mod deliver;
mod evening;
mod excerpt;
mod exit;
mod formats;
mod input;
mod io;
mod isolate;
mod json;
mod markdown;
mod names;
mod page;
mod picture;
mod plain;
mod sheet;
mod table;
mod words;

use std::ffi::OsString;

use clap::Parser;

pub use exit::Exit;
pub use formats::every_form;
pub use io::{Io, Terminal};

/// Runs the command. The first argument is the name it was called by.
pub fn run(args: impl IntoIterator<Item = OsString>, io: &mut Io<'_>) -> Exit {
    match args::Args::try_parse_from(args) {
        Ok(args) => command::run(&args, io),
        Err(error) => {
            let text = error.render();
            let text = if io.terminal.colour { text.ansi().to_string() } else { text.to_string() };
            match error.kind() {
                clap::error::ErrorKind::DisplayHelp | clap::error::ErrorKind::DisplayVersion => {
                    io.print(&text, Exit::Planned)
                }
                _ => io.complain(&text, Exit::BadInput),
            }
        }
    }
}

//! The faces of Rangewright: commands, source excerpts and renderers. It decides nothing about a plan.
//!
//! [`run`] is the whole command: arguments and an [`Io`] in, an [`Exit`] out. The binary hands it the real terminal; tests
//! hand it buffers, a clock that stands still and a terminal of any width.
//!
//! Without the feature `command` (on by default) there is no command, and no package that only a command needs: what is left
//! is [`every_form`], the renderers for programs of your own.

// Without the command, what only the command asks of the renderers is asked by nobody.
#![cfg_attr(not(feature = "command"), allow(dead_code, unused_imports))]

#[cfg(feature = "command")]
mod args;
mod calendar;
mod chances;
#[cfg(feature = "command")]
mod command;
#[cfg(feature = "command")]
mod deliver;
mod evening;
#[cfg(feature = "command")]
mod excerpt;
mod exit;
mod formats;
#[cfg(feature = "command")]
mod input;
mod io;
mod isolate;
mod json;
mod markdown;
#[cfg(feature = "command")]
mod names;
mod page;
mod paper;
mod pass;
mod picture;
mod plain;
mod scales;
mod sheet;
mod table;
mod words;

pub use exit::Exit;
pub use formats::{SheetFormat, every_form};
pub use io::{Io, Terminal};
pub use paper::{Paper, PaperSize};

/// Runs the command. The first argument is the name it was called by.
#[cfg(feature = "command")]
pub fn run(args: impl IntoIterator<Item = std::ffi::OsString>, io: &mut Io<'_>) -> Exit {
    use clap::Parser;

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

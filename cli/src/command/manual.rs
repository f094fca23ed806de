//! `rangewright completions` and `rangewright man`: made from the definitions of the arguments, as the help is.

use clap::CommandFactory;

use crate::args::{Args, CompletionsArgs, ManArgs};
use crate::{Exit, Io};

pub(super) fn completions(args: &CompletionsArgs, io: &mut Io<'_>) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut Args::command(), "rangewright", &mut script);
    io.print(&String::from_utf8_lossy(&script), Exit::Planned)
}

pub(super) fn man(args: &ManArgs, io: &mut Io<'_>) -> Exit {
    let mut command = Args::command();
    command.build();
    let page = match &args.of {
        None => command,
        Some(name) => match command.find_subcommand(name) {
            Some(own) => own.clone(),
            None => {
                let all: Vec<&str> = command.get_subcommands().map(clap::Command::get_name).collect();
                let text = format!("error: there is no command {name:?}; the commands are {}\n", all.join(", "));
                return io.complain(&text, Exit::BadInput);
            }
        },
    };
    let mut text = Vec::new();
    match clap_mangen::Man::new(page).render(&mut text) {
        Ok(()) => io.print(&String::from_utf8_lossy(&text), Exit::Planned),
        Err(error) => io.complain(&format!("error: the page cannot be written: {error}\n"), Exit::Internal),
    }
}

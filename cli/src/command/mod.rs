//! The commands.

mod batch;
mod check;
mod chill;
mod cook;
mod day;
mod dishes;
mod hand_over;
mod kinds;
mod log;
mod manual;
mod no;
mod odds;
mod pass;
mod plan;
mod portions;
mod replan;
mod roast;
mod said;
mod search;
mod share;
mod show;
mod soonest;
mod watch;
mod why;
mod worth;

use rangewright::models::feast::Units;

use crate::args::{Args, ClockArg, Command, LookArgs, UnitsArg};
use crate::input::{Refusal, Wish};
use crate::json::Asked;
use crate::sheet::Look;
use crate::words::Words;

use crate::{Exit, Io};

/// Runs one command.
pub(crate) fn run(args: &Args, io: &mut Io<'_>) -> Exit {
    match &args.command {
        Command::Plan(args) => plan::run(args, io),
        Command::Show(args) => show::run(args, io),
        Command::Check(args) => check::run(args, io),
        Command::Share(args) => share::run(args, io),
        Command::Soonest(args) => soonest::run(args, io),
        Command::Why(args) => why::run(args, io),
        Command::Worth(args) => worth::run(args, io),
        Command::Roast(args) => roast::run(args, io),
        Command::Chill(args) => chill::run(args, io),
        Command::Portions(args) => portions::run(args, io),
        Command::Dishes(args) => dishes::run(args, io),
        Command::Odds(args) => odds::run(args, io),
        Command::Log(args) => log::run(args, io),
        Command::Pass(args) => pass::run(args, io),
        Command::Replan(args) => replan::run(args, io),
        Command::Batch(args) => batch::run(args, io),
        Command::Kinds => io.print(&kinds::table(), Exit::Planned),
        Command::Completions(args) => manual::completions(args, io),
        Command::Man(args) => manual::man(args, io),
    }
}

/// Prints an answer, or says why there is none, in the form that was asked for.
fn tell(answer: Result<(String, Exit), Refusal>, asked: Asked, as_data: bool, io: &mut Io<'_>) -> Exit {
    match answer {
        Ok((text, exit)) => io.print(&text, exit),
        Err(refusal) => refusal.tell(asked, as_data, io),
    }
}

/// Units and clock times as asked for.
fn adapt(words: &mut Words, look: &LookArgs) {
    words.twelve = look.clock == ClockArg::Twelve;
    if let Some(units) = units(look) {
        words.labels.units = units;
    }
}

/// What is asked for beside what the menu and its kitchen say.
fn wish(look: &LookArgs) -> Wish {
    Wish { units: units(look), region: look.region, kitchen_anywhere: look.kitchen_anywhere, date: None }
}

/// The units asked for, if not those of the menu.
fn units(look: &LookArgs) -> Option<Units> {
    look.units.map(|units| match units {
        UnitsArg::Metric => Units::Metric,
        UnitsArg::Customary => Units::Customary,
    })
}

fn look(look: &LookArgs, io: &Io<'_>) -> Look {
    Look::new(io.terminal, look.width, look.ascii, look.clock == ClockArg::Twelve)
}

/// Which cook is called so.
fn cook_called(name: &str, words: &Words) -> Result<usize, Refusal> {
    let same = |own: &str| own.to_lowercase() == name.to_lowercase();
    let cooks = &words.said.cooks;
    cooks.iter().position(|cook| same(&cook.name)).ok_or_else(|| {
        let names: Vec<&str> = cooks.iter().map(|cook| cook.name.as_str()).collect();
        let text = format!("error: no cook is called {name:?}; the cooks are {}\n", names.join(", "));
        Refusal::new(text, Exit::BadInput)
    })
}

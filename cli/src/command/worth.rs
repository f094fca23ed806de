//! `rangewright worth`: what would help?

use rangewright::change::{Change, Found, Help, usual_changes, what_would_help};
use rangewright::models::problem::Problem;
use serde::Serialize;

use super::search::{Search, refusal};
use crate::args::{AskFormat, WorthArgs};
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::sheet::{self, Page};
use crate::words::Words;
use crate::{Exit, Io, names};

/// Hands for what is made ahead are there for so long, minutes.
const EVE: i64 = 240;

pub(super) fn run(args: &WorthArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Worth, args.ask.format == AskFormat::Json, io)
}

#[derive(Serialize)]
struct Answer<'a> {
    #[serde(flatten)]
    help: &'a Help,
}

fn answer(args: &WorthArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let Input { planner, mut words, .. } = input::read(args.menu.as_deref(), super::wish(&args.ask.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.ask.look);
    let asked = changes(args, problem, &words)?;
    let usual = asked.is_empty();
    let changes = if usual { usual_changes(problem) } else { asked };
    let search = Search::of_question(&args.ask, io);
    let help = what_would_help(problem, &changes, &search.limits()).map_err(|error| refusal(&error))?;
    let known = |found: &Found| *found != Found::Undecided;
    let exit = if known(&help.before) || help.benefits.iter().any(|benefit| known(&benefit.after)) {
        Exit::Planned
    } else {
        Exit::Undecided
    };
    let text = match args.ask.format {
        AskFormat::Json => {
            let outcome = if exit == Exit::Planned { "answered" } else { "undecided" };
            let rest = json::breached(problem, &words, Answer { help: &help });
            json::answer(Asked::Worth, outcome, &words.said.name, rest)
        }
        AskFormat::Text => {
            let mut page = Page::new(super::look(&args.ask.look, io));
            sheet::worth(&mut page, problem, &words, &help, usual);
            page.finish()
        }
    };
    Ok((text, exit))
}

/// The changes asked about.
fn changes(args: &WorthArgs, problem: &Problem, words: &Words) -> Result<Vec<Change>, Refusal> {
    let mut changes = Vec::new();
    for name in &args.second {
        changes.push(Change::Second { place: names::place(problem, words, name)? });
    }
    changes.extend(args.hands.map(|hands| Change::MoreHands { hands }));
    changes.extend(args.drawer.then_some(Change::Drawer));
    for name in &args.ahead {
        changes.push(Change::Ahead { dish: names::dish(problem, words, name)?, minutes: EVE });
    }
    for name in &args.without {
        changes.push(Change::DropDish { dish: names::dish(problem, words, name)? });
    }
    Ok(changes)
}

//! `rangewright soonest`: how soon can we eat?

use rangewright::ask::{HowSoon, Soonest, at_once, how_soon};
use rangewright::models::problem::Problem;
use serde::Serialize;

use super::no;
use super::search::{Search, refusal};
use crate::args::{AskFormat, SoonestArgs};
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::sheet::{self, Page};
use crate::words::Words;
use crate::{Exit, Io};

pub(super) fn run(args: &SoonestArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Soonest, args.ask.format == AskFormat::Json, io)
}

#[derive(Serialize)]
struct Answer<'a> {
    /// The date of minute 0; absent for a bare problem.
    day_zero: Option<String>,
    #[serde(flatten)]
    soonest: &'a Soonest,
}

fn answer(args: &SoonestArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let Input { planner, mut words, .. } = input::read(args.menu.as_deref(), super::wish(&args.ask.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.ask.look);
    let now = match args.begin {
        None => None,
        Some(clock) => {
            let minute = words
                .labels
                .calendar
                .minute(clock)
                .map_err(|error| Refusal::new(format!("error: --begin {clock}: {error}\n"), Exit::BadInput))?;
            if !(0..=43_200).contains(&minute) {
                let text = format!("error: --begin {clock}: the menu's calendar does not reach that far\n");
                return Err(Refusal::new(text, Exit::BadInput));
            }
            Some(minute)
        }
    };
    let search = Search::of_question(&args.ask, io);
    match how_soon(problem, now, &search.limits()).map_err(|error| refusal(&error))? {
        HowSoon::At(soonest) => Ok((told(args, io, problem, &words, &soonest), Exit::Planned)),
        HowSoon::Never(conflict) => {
            Ok(no::impossible(&at_once(problem, now), &words, conflict, Asked::Soonest, &search, &args.ask, io))
        }
        HowSoon::Undecided(progress) => Ok(no::undecided(&words, &progress, Asked::Soonest, &args.ask, io)),
    }
}

fn told(args: &SoonestArgs, io: &Io<'_>, problem: &Problem, words: &Words, soonest: &Soonest) -> String {
    match args.ask.format {
        AskFormat::Json => {
            let day_zero = words.dated.then(|| words.labels.calendar.moment(0).to_string());
            let rest = Answer { day_zero, soonest };
            json::answer(Asked::Soonest, "planned", &words.said.name, json::breached(problem, words, rest))
        }
        AskFormat::Text => {
            let mut page = Page::new(super::look(&args.ask.look, io));
            sheet::soonest(&mut page, problem, words, soonest);
            page.finish()
        }
    }
}

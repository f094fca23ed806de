//! `rangewright odds`.

use rangewright::margins::margins;
use rangewright::models::check::{Violation, check};
use rangewright::models::problem::{Minute, Problem};
use rangewright::odds::{Dice, odds};
use rangewright::slack::slack;
use rangewright::{Outcome, solve};

use super::no::why;
use super::search::{Search, refusal};
use crate::args::{AskFormat, OddsArgs};
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::sheet::{self, Chances, Page};
use crate::words::{Words, count};
use crate::{Exit, Io};

pub(super) fn run(args: &OddsArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Odds, args.format == AskFormat::Json, io)
}

fn answer(args: &OddsArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let input = input::read(args.menu.as_deref(), super::wish(&args.look), io)?;
    let Input { planner, mut words, .. } = input;
    let (problem, crew) = (planner.problem(), planner.crew());
    super::adapt(&mut words, &args.look);
    let search = Search::new(&args.limits, io);
    let plan = match &args.plan {
        Some(path) => {
            let plan = input::saved_plan(path, problem, io)?;
            if let Err(broken) = check(problem, &plan) {
                let unknown =
                    |one: &Violation| matches!(one, Violation::MissingStep { .. } | Violation::NoSuchMode { .. });
                if broken.iter().any(unknown) {
                    let look = super::look(&args.look, io);
                    return Err(Refusal::shown(sheet::broken_plan(path, &words, &broken, look), Exit::BadInput));
                }
                let (shown, rules) = (path.display(), count(broken.len(), "rule", "rules"));
                let remedy = format!("`rangewright check MENU --plan {shown}` names them");
                io.complain(&format!("warning: {shown} breaks {rules} of the menu; {remedy}\n"), Exit::Planned);
            }
            plan
        }
        None => match solve(problem, &search.limits()).map_err(|error| refusal(&error))? {
            Outcome::Planned(planned) => planned.plan,
            other => return Ok(no(other, problem, &words, &search, args, io)),
        },
    };
    let known = planner.ranges(&plan, args.doubt);
    let dice = Dice {
        evenings: args.evenings as usize,
        seed: args.seed,
        within: Minute::from(args.within),
        ..Dice::default()
    };
    let own = odds(problem, &plan, crew, &known, dice).map_err(|error| refusal(&error))?;
    let more = args.confidence.map(|percent| {
        margins(problem, &plan, crew, &known, dice, percent, &search.limits()).map_err(|error| refusal(&error))
    });
    let chances = Chances { slack: slack(problem, &plan, crew), odds: own, margins: more.transpose()?, plan };
    if args.format == AskFormat::Json {
        return Ok((json::odds(problem, &words, &chances), Exit::Planned));
    }
    let mut page = Page::new(super::look(&args.look, io));
    sheet::odds(&mut page, problem, &words, &chances);
    Ok((page.finish(), Exit::Planned))
}

/// Without a plan there are no odds: why there is none.
fn no(
    outcome: Outcome,
    problem: &Problem,
    words: &Words,
    search: &Search<'_>,
    args: &OddsArgs,
    io: &Io<'_>,
) -> (String, Exit) {
    let (json, look) = (args.format == AskFormat::Json, super::look(&args.look, io));
    match outcome {
        Outcome::Impossible(conflict) => {
            let no = why(problem, conflict, search);
            let text = if json {
                json::impossible(Asked::Odds, problem, words, &no)
            } else {
                sheet::impossible(problem, words, &no, look)
            };
            (text, Exit::Impossible)
        }
        Outcome::Undecided(progress) => {
            let text = if json {
                json::undecided(Asked::Odds, words, &progress)
            } else {
                sheet::undecided(words, &progress, look)
            };
            (text, Exit::Undecided)
        }
        Outcome::Planned(_) => (String::new(), Exit::Planned),
    }
}

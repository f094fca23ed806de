//! `rangewright odds`.

use rangewright::models::plan::Plan;
use rangewright::models::problem::{Minute, Problem};
use rangewright::models::schedule::Crew;
use rangewright::odds::{Dice, Margins, Odds, Range, Ranges, margins, odds, ranges};
use rangewright::slack::{Slack, slack};
use rangewright::{Error, Limits, Outcome, solve};
use serde::Serialize;

use super::search::Search;
use crate::args::{Format, OddsArgs};
use crate::input::{self, Refusal};
use crate::sheet::{self, Page};
use crate::words::Words;
use crate::{Exit, Io, json};

/// Work of each planning while margins are sought: a good plan, in a moment.
const WORK: u64 = 1_500;

/// What is known of a plan's chances.
#[derive(Serialize)]
pub(crate) struct Chances {
    /// The plan.
    pub(crate) plan: Plan,
    /// Its odds.
    pub(crate) odds: Odds,
    /// What each step may lose.
    pub(crate) slack: Vec<Slack>,
    /// More minutes, if they were asked for.
    pub(crate) margins: Option<Margins>,
}

pub(super) fn run(args: &OddsArgs, io: &mut Io<'_>) -> Exit {
    match answer(args, io) {
        Ok(text) => io.print(&text, Exit::Planned),
        Err(refusal) => io.complain(&refusal.text, refusal.exit),
    }
}

fn answer(args: &OddsArgs, io: &mut Io<'_>) -> Result<String, Refusal> {
    let input = input::read(args.menu.as_deref(), io)?;
    let (problem, mut words) = (input.problem, input.words);
    super::adapt(&mut words, &args.look);
    let search = Search::new(&args.limits, io);
    let plan = match &args.plan {
        Some(path) => input::saved_plan(path, io)?,
        None => planned(&problem, &search.limits())?,
    };
    let crew = Crew::named(&words.labels);
    let known = known(&problem, &plan, &words, args.doubt);
    let dice = Dice { evenings: args.evenings as usize, seed: args.seed };
    let own = odds(&problem, &plan, &crew, &known, dice).map_err(refused)?;
    let limits = Limits { work: Some(args.limits.work.unwrap_or(WORK).min(WORK)), ..search.limits() };
    let more = args.confidence.map(|percent| {
        margins(&problem, &plan, &crew, &known, dice, percent, Minute::from(args.within), &limits).map_err(refused)
    });
    let chances = Chances { slack: slack(&problem, &plan, &crew), odds: own, margins: more.transpose()?, plan };
    if args.format == Format::Json {
        return Ok(json::odds(&words, &chances));
    }
    let mut page = Page::new(super::look(&args.look, io));
    sheet::odds(&chances, args.confidence.unwrap_or(0), args.within, &words, &mut page);
    Ok(page.finish())
}

fn planned(problem: &Problem, limits: &Limits<'_>) -> Result<Plan, Refusal> {
    match solve(problem, limits).map_err(refused)? {
        Outcome::Planned(planned) => Ok(planned.plan),
        Outcome::Impossible(_) => {
            Err(Refusal::new("This cannot be done: ask `plan` for the reasons.\n".to_owned(), Exit::Impossible))
        }
        Outcome::Undecided(_) => Err(Refusal::new("No plan was found within the limit.\n".to_owned(), Exit::Undecided)),
    }
}

fn refused(error: Error) -> Refusal {
    let exit = if matches!(error, Error::Internal(_)) { Exit::Internal } else { Exit::BadInput };
    Refusal::new(format!("error: {error}\n"), exit)
}

/// The ranges: as the menu or the cooking models have them, else by the doubt asked for.
fn known(problem: &Problem, plan: &Plan, words: &Words, doubt: u32) -> Ranges {
    let mut known = ranges(problem, plan, doubt);
    for step in &problem.steps {
        let Some(mode) = plan.steps.get(&step.id).map(|planned| planned.mode) else { continue };
        let said = words.step(&step.id).and_then(|label| label.modes.get(mode)?.range);
        if let (Some(said), Some(mode)) = (said, step.modes.get(mode)) {
            let range = Range { shortest: said.shortest, likely: mode.likely(), longest: said.longest };
            known.insert(step.id.clone(), range);
        }
    }
    known
}

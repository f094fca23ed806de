//! `rangewright why`: why this way, and what would another cost?

use rangewright::ask::{Alternative, why_this_way};
use rangewright::models::check::check;
use rangewright::models::plan::{Plan, PlannedStep};
use rangewright::{Outcome, solve};
use serde::Serialize;

use super::no;
use super::search::{Search, refusal};
use crate::args::{AskFormat, WhyArgs};
use crate::input::{self, Input, Refusal};
use crate::json::{self, Asked};
use crate::sheet::{self, Page};
use crate::words::count;
use crate::{Exit, Io, names};

pub(super) fn run(args: &WhyArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Why, args.ask.format == AskFormat::Json, io)
}

#[derive(Serialize)]
struct Answer<'a> {
    step: &'a str,
    chosen: Option<&'a PlannedStep>,
    /// Lateness, waiting and hot minutes of the plan at hand.
    costs: [i64; 3],
    proved: bool,
    alternatives: &'a [Alternative],
}

fn answer(args: &WhyArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let Input { planner, mut words, .. } = input::read(Some(&args.menu), super::wish(&args.ask.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.ask.look);
    let step = names::step(problem, &words, &args.step, &|_| false)?;
    let search = Search::of_question(&args.ask, io);
    let plan = match &args.plan {
        Some(path) => {
            let plan = input::saved_plan(path, problem, io)?;
            check(problem, &plan).map_err(|violations| {
                let broken = count(violations.len(), "rule is broken", "rules are broken");
                let text = format!("error: {} is no plan of this menu: {broken}; see `check --plan`\n", path.display());
                Refusal::new(text, Exit::BadInput)
            })?;
            plan
        }
        None => match solve(problem, &search.limits()).map_err(|error| refusal(&error))? {
            Outcome::Planned(planned) => planned.plan,
            Outcome::Impossible(conflict) => {
                return Ok(no::impossible(problem, &words, conflict, Asked::Why, &search, &args.ask, io));
            }
            Outcome::Undecided(progress) => return Ok(no::undecided(&words, &progress, Asked::Why, &args.ask, io)),
        },
    };
    let alternatives = why_this_way(problem, &plan, &step, &search.limits()).map_err(|error| refusal(&error))?;
    let text = match args.ask.format {
        AskFormat::Json => {
            let rest = json::breached(problem, &words, of(&plan, &step, &alternatives));
            json::answer(Asked::Why, "answered", &words.said.name, rest)
        }
        AskFormat::Text => {
            let mut page = Page::new(super::look(&args.ask.look, io));
            sheet::why(&mut page, problem, &words, &plan, &step, &alternatives);
            page.finish()
        }
    };
    Ok((text, Exit::Planned))
}

fn of<'a>(plan: &'a Plan, step: &'a str, alternatives: &'a [Alternative]) -> Answer<'a> {
    let costs = [plan.lateness, plan.waiting, plan.hot];
    Answer { step, chosen: plan.steps.get(step), costs, proved: plan.bounds == costs, alternatives }
}

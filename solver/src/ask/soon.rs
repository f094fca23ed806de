//! How soon can we eat?

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use serde::{Deserialize, Serialize};

use super::chain::{Chain, chain};
use crate::{Conflict, Error, Limits, Outcome, Progress, solve};

/// Courses may be put off by this much in search of the soonest serving, and always to the end of the last shift: three days.
const LONGEST: Minute = 4_320;

/// The answer to "how soon?".
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum HowSoon {
    /// So soon.
    At(Soonest),
    /// It is proved that there is no plan at all.
    Never(Conflict),
    /// A limit was reached before a plan was found.
    Undecided(Progress),
}

/// The soonest serving found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Soonest {
    /// When work begins.
    pub from: Minute,
    /// The plan, of the problem that begins then ([`at_once`]). Its lateness is counted from then.
    pub plan: Plan,
    /// No sooner serving is possible, where sooner is the sum over courses of weight times minutes.
    pub proved: bool,
    /// What decides it, from the first step to the last serving.
    pub chain: Chain,
}

/// The same problem with every course wanted at once: its lateness is how long they take, weighted as on the menu.
///
/// `now` is when work may start; the opening if absent. The pauses between courses are kept.
pub fn at_once(problem: &Problem, now: Option<Minute>) -> Problem {
    let mut problem = problem.clone();
    let now = now.unwrap_or(problem.opening);
    problem.opening = now;
    let cooks = problem.cooks.iter().flat_map(|cook| &cook.shifts).map(|hours| hours.end);
    let end = problem.shifts.iter().map(|shift| shift.end).chain(cooks).max().unwrap_or(now);
    for course in &mut problem.courses {
        course.serve = now;
        course.max_slip = LONGEST.max(end.saturating_sub(now));
    }
    problem
}

/// The earliest the courses can be served when work starts at `now`, a minute of the problem, and the chain of steps and
/// waits that decides it. Without `now` work starts at the opening.
///
/// # Errors
/// As [`solve`].
pub fn how_soon(problem: &Problem, now: Option<Minute>, limits: &Limits<'_>) -> Result<HowSoon, Error> {
    let at_once = at_once(problem, now);
    match solve(&at_once, limits)? {
        Outcome::Planned(planned) => {
            let plan = planned.plan;
            let proved = plan.bounds[0] == plan.lateness;
            let chain = chain(&at_once, &plan);
            Ok(HowSoon::At(Soonest { from: at_once.opening, plan, proved, chain }))
        }
        Outcome::Impossible(conflict) => Ok(HowSoon::Never(conflict)),
        Outcome::Undecided(progress) => Ok(HowSoon::Undecided(progress)),
    }
}

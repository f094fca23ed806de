//! How soon can we eat?

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use serde::{Deserialize, Serialize};

use super::chain::{ChainStep, chain};
use crate::{Error, Limits, Outcome, solve};

/// Courses may be put off by this much in search of the soonest serving: three days.
const LONGEST: Minute = 4_320;

/// The soonest serving found.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Soonest {
    /// The plan, of the problem that starts now. Its lateness is counted from now.
    pub plan: Plan,
    /// No sooner serving is possible.
    pub proved: bool,
    /// What decides it, from the first step to the last serving.
    pub chain: Vec<ChainStep>,
}

/// The same problem with every course wanted at once: its lateness is how long they take, weighted as on the menu.
///
/// `now` is when work may start; the opening if absent. The pauses between courses are kept.
pub(super) fn at_once(problem: &Problem, now: Option<Minute>) -> Problem {
    let mut problem = problem.clone();
    let now = now.unwrap_or(problem.opening);
    problem.opening = now;
    for course in &mut problem.courses {
        course.serve = now;
        course.max_slip = LONGEST;
    }
    problem
}

/// The earliest the courses can be served when work starts now, and the chain of steps and waits that decides it.
///
/// `None` if there is no plan at all, or none was found within the limit: the outcome says which.
///
/// # Errors
/// As [`solve`].
pub fn how_soon(
    problem: &Problem,
    now: Option<Minute>,
    limits: &Limits<'_>,
) -> Result<Result<Soonest, Outcome>, Error> {
    let at_once = at_once(problem, now);
    match solve(&at_once, limits)? {
        Outcome::Planned(planned) => {
            let plan = planned.plan;
            let proved = plan.bounds[0] == plan.lateness;
            let chain = chain(&at_once, &plan);
            Ok(Ok(Soonest { plan, proved, chain }))
        }
        no => Ok(Err(no)),
    }
}

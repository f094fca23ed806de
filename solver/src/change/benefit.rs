//! What a change in the kitchen or the crew would bring.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use serde::{Deserialize, Serialize};

use super::{Change, changed};
use crate::{Error, Limits, Outcome, solve};

/// What one looks at before and after a change.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Measure {
    /// First goal.
    pub lateness: i64,
    /// Second goal.
    pub waiting: i64,
    /// Third goal.
    pub hot: i64,
    /// Minutes of hands-on work, counted for each hand, in the hour before each serving.
    pub last_hour: Minute,
    /// All three goals are proved best.
    pub proved: bool,
}

/// A change with what it brings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Benefit {
    /// The change.
    pub change: Change,
    /// The best plan found with it; absent if none was found within the limit or there is none.
    pub after: Option<Measure>,
}

/// Plans a problem as it is and again with each change alone.
///
/// Each of the plans has the whole of `limits`. The first value is the problem as it is; absent if it has no plan.
///
/// # Errors
/// As [`solve`].
pub fn what_would_help(
    problem: &Problem,
    changes: &[Change],
    limits: &Limits<'_>,
) -> Result<(Option<Measure>, Vec<Benefit>), Error> {
    let before = measure(problem, limits)?;
    let mut benefits = Vec::with_capacity(changes.len());
    for change in changes {
        let after = measure(&changed(problem, std::slice::from_ref(change)), limits)?;
        benefits.push(Benefit { change: change.clone(), after });
    }
    Ok((before, benefits))
}

fn measure(problem: &Problem, limits: &Limits<'_>) -> Result<Option<Measure>, Error> {
    let Outcome::Planned(planned) = solve(problem, limits)? else { return Ok(None) };
    let plan = planned.plan;
    Ok(Some(Measure {
        lateness: plan.lateness,
        waiting: plan.waiting,
        hot: plan.hot,
        last_hour: last_hour(problem, &plan),
        proved: plan.status == rangewright_models::plan::Status::Optimal,
    }))
}

/// Minutes of hands in the 60 minutes before each serving.
fn last_hour(problem: &Problem, plan: &Plan) -> Minute {
    let before_serving = |minute: Minute| plan.served.values().any(|&served| (served - 60..served).contains(&minute));
    let mut minutes = 0;
    for step in &problem.steps {
        let Some(planned) = plan.steps.get(&step.id) else { continue };
        let mode = &step.modes[planned.mode];
        let mut count = |from: Minute, to: Minute, hands: i64| {
            minutes += hands * (from..to).filter(|&minute| before_serving(minute)).count() as i64;
        };
        count(planned.start, planned.end, mode.hands);
        count(planned.start, planned.start + mode.load, 1);
        count(planned.end - mode.unload, planned.end, 1);
        for &[offset, length] in &mode.touches {
            count(planned.start + offset, planned.start + offset + length, 1);
        }
    }
    minutes
}

//! What a change in the kitchen or the crew would bring.

use std::collections::BTreeMap;

use rangewright_models::plan::{Plan, Status};
use rangewright_models::problem::{Minute, Place, Problem};
use serde::{Deserialize, Serialize};

use super::busy::{Busy, Scarce, busy, last_hour};
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
    /// How much later than wanted each course is served.
    pub slips: BTreeMap<String, Minute>,
    /// What is used to the limit, and when.
    pub busy: Vec<Busy>,
    /// All three goals are proved best.
    pub proved: bool,
}

/// What comes of planning once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Found {
    /// The best plan found.
    Plan(Measure),
    /// It is proved that there is none.
    Impossible,
    /// A limit was reached first.
    Undecided,
}

/// A change with what it brings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Benefit {
    /// The change.
    pub change: Change,
    /// The best plan with it.
    pub after: Found,
    /// By how much lateness, waiting, hot minutes and the work of the last hour shrink (below zero: grow); absent unless
    /// there is a plan with and without the change.
    pub gain: Option<[i64; 4]>,
}

/// The answer to "what would help?".
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Help {
    /// The problem as it is.
    pub before: Found,
    /// Each change, the most helpful first.
    pub benefits: Vec<Benefit>,
    /// The appliance, the pool or the hands of which more would help most: what the evening waits for. Absent if more of
    /// nothing would help.
    pub bottleneck: Option<Scarce>,
}

/// Plans a problem as it is and again with each change alone.
///
/// Each of the plans has the whole of `limits`, but for `start`. Changes that make possible what is not come first, then
/// those that save lateness, then waiting, then work in the last hour.
///
/// # Errors
/// As [`solve`].
pub fn what_would_help(problem: &Problem, changes: &[Change], limits: &Limits<'_>) -> Result<Help, Error> {
    let limits = Limits { start: None, ..*limits };
    let before = measure(problem, &limits)?;
    let mut benefits = Vec::with_capacity(changes.len());
    for change in changes {
        let after = measure(&changed(problem, std::slice::from_ref(change)), &limits)?;
        let gain = match (&before, &after) {
            (Found::Plan(before), Found::Plan(after)) => Some(gain(before, after)),
            _ => None,
        };
        benefits.push(Benefit { change: change.clone(), after, gain });
    }
    benefits.sort_by_key(rank);
    let bottleneck = benefits.iter().find_map(|benefit| {
        let helps = match benefit.gain {
            Some([lateness, waiting, _, _]) => lateness > 0 || lateness == 0 && waiting > 0,
            None => before == Found::Impossible && matches!(benefit.after, Found::Plan(_)),
        };
        helps.then(|| relieved(&benefit.change)).flatten()
    });
    Ok(Help { before, benefits, bottleneck })
}

/// The changes that cooks think of first: one more pair of hands, a second of each cavity and a warming drawer, and the cold
/// work of each dish on the day before.
pub fn usual_changes(problem: &Problem) -> Vec<Change> {
    let mut changes = vec![Change::MoreHands { hands: 1 }];
    let cavities = problem.places.iter().filter(|place| matches!(place, Place::Cavity(_)));
    changes.extend(cavities.map(|place| Change::Second { place: place.id().to_owned() }));
    changes.push(Change::Drawer);
    let ahead = problem.dishes.iter().map(|dish| Change::Ahead { dish: dish.id.clone(), minutes: EVE });
    changes.extend(ahead.filter(|change| changed(problem, std::slice::from_ref(change)) != *problem));
    changes
}

/// Hands for what is made ahead are there for so long.
const EVE: Minute = 240;

fn measure(problem: &Problem, limits: &Limits<'_>) -> Result<Found, Error> {
    let plan: Plan = match solve(problem, limits)? {
        Outcome::Planned(planned) => planned.plan,
        Outcome::Impossible(_) => return Ok(Found::Impossible),
        Outcome::Undecided(_) => return Ok(Found::Undecided),
    };
    let slip = |course: &rangewright_models::problem::Course| {
        Some((course.id.clone(), plan.served.get(&course.id)? - course.serve))
    };
    Ok(Found::Plan(Measure {
        lateness: plan.lateness,
        waiting: plan.waiting,
        hot: plan.hot,
        last_hour: last_hour(problem, &plan),
        slips: problem.courses.iter().filter_map(slip).collect(),
        busy: busy(problem, &plan),
        proved: plan.status == Status::Optimal,
    }))
}

fn gain(before: &Measure, after: &Measure) -> [i64; 4] {
    [
        before.lateness - after.lateness,
        before.waiting - after.waiting,
        before.hot - after.hot,
        before.last_hour - after.last_hour,
    ]
}

/// Most helpful first: a plan at all, then lateness, waiting, the last hour, hot minutes; then how small the change is.
fn rank(benefit: &Benefit) -> (u8, [i64; 4], i64) {
    let found = match benefit.after {
        Found::Plan(_) => 0,
        Found::Undecided => 1,
        Found::Impossible => 2,
    };
    let [lateness, waiting, hot, last_hour] = benefit.gain.unwrap_or_default();
    (found, [-lateness, -waiting, -last_hour, -hot], benefit.change.size())
}

/// What a change gives more of.
fn relieved(change: &Change) -> Option<Scarce> {
    match change {
        Change::MoreHands { .. } => Some(Scarce::Hands),
        Change::Second { place } | Change::MoreRacks { place, .. } | Change::MoreBurners { place, .. } => {
            Some(Scarce::Place { place: place.clone() })
        }
        Change::MoreOf { pool, .. } => Some(Scarce::Pool { pool: pool.clone() }),
        _ => None,
    }
}

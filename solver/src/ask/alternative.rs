//! Why this way, and not another? What the nearest alternatives would cost.

use std::collections::BTreeMap;

use rangewright_models::check::form;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Link, Minute, Mode, Named, Problem, Wait};
use serde::{Deserialize, Serialize};

use super::beside;
use crate::probe::may_be_searched;
use crate::search::solve_as;
use crate::{Error, Limits, Outcome};

/// Something forced upon a plan. Ids are those of the problem.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Force {
    /// The step is done in this place, or on the counter.
    Place {
        /// The step.
        step: String,
        /// The place; the counter if absent.
        place: Option<String>,
    },
    /// The step is done in this mode.
    Mode {
        /// The step.
        step: String,
        /// Index into the step's modes.
        mode: usize,
    },
    /// The step starts at this minute or later.
    StartFrom {
        /// The step.
        step: String,
        /// The minute.
        minute: Minute,
    },
    /// The step has ended by this minute.
    EndBy {
        /// The step.
        step: String,
        /// The minute.
        minute: Minute,
    },
    /// One step ends before another starts.
    Before {
        /// The earlier step.
        first: String,
        /// The later step.
        second: String,
    },
}

/// An alternative and what it would cost.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Alternative {
    /// What is forced.
    pub force: Force,
    /// What the best plan found with it costs compared with the given one.
    pub difference: Difference,
}

/// How the best plan with a choice forced compares with the plan at hand.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Difference {
    /// So much more (or less) of each of the three goals.
    Costs {
        /// Lateness, waiting, hot minutes: with the choice forced, less the plan at hand.
        more: [i64; 3],
        /// The courses that are served later (or, below zero, sooner), by so many minutes.
        later: BTreeMap<String, Minute>,
        /// The steps of other dishes that then share the cavity with this one for a while.
        beside: Vec<String>,
        /// The plan with the choice forced is proved best. If not, the difference may be smaller in truth.
        proved: bool,
    },
    /// It is proved that there is no plan with it.
    Impossible,
    /// A limit was reached first.
    Undecided,
}

impl Difference {
    /// To rank by: what costs least first, what cannot be done last.
    fn rank(&self) -> (u8, [i64; 3]) {
        match self {
            Difference::Costs { more, .. } => (0, *more),
            Difference::Undecided => (1, [0; 3]),
            Difference::Impossible => (2, [0; 3]),
        }
    }
}

/// Moving a step by less than this is no other way of doing things.
const NUDGE: Minute = 10;

/// The nearest alternatives to what a plan does with one step, each tried by the solver: every other place, every other
/// temperature or heat level in the same place, sooner or later by ten minutes, and the other order with its neighbours in
/// the same place. What costs least comes first.
///
/// Each alternative has the whole of `limits`, but for `start`.
///
/// # Errors
/// [`Error::Unknown`] for a step that is not there, [`Error::Plan`] if this is no plan of the problem; else as
/// [`solve`](crate::solve).
pub fn why_this_way(
    problem: &Problem,
    plan: &Plan,
    step: &str,
    limits: &Limits<'_>,
) -> Result<Vec<Alternative>, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    limits.verify()?;
    if problem.steps.iter().all(|own| own.id != step) {
        return Err(Error::Unknown { named: Named::Step, id: step.to_owned() });
    }
    form(problem, plan).map_err(Error::Plan)?;
    let limits = Limits { start: None, ..*limits };
    let mut alternatives = Vec::new();
    for force in forces(problem, plan, step) {
        let forced = with(problem, &force);
        // An order that closes a circle of links, or a window without a minute, is no way to do it.
        let difference = if !may_be_searched(&forced) {
            Difference::Impossible
        } else {
            // An order may let a step wait for a last step, which a problem's own links may not: judged without it.
            let judge = if matches!(force, Force::Before { .. }) { problem } else { &forced };
            match solve_as(&forced, judge, &limits)? {
                Outcome::Planned(planned) => {
                    let other = planned.plan;
                    let more = [
                        other.lateness.saturating_sub(plan.lateness),
                        other.waiting.saturating_sub(plan.waiting),
                        other.hot.saturating_sub(plan.hot),
                    ];
                    let proved = other.bounds == [other.lateness, other.waiting, other.hot];
                    let later = other.served.iter().filter_map(|(course, minute)| {
                        let by = minute - plan.served.get(course)?;
                        (by != 0).then(|| (course.clone(), by))
                    });
                    Difference::Costs { more, later: later.collect(), beside: beside(problem, &other, step), proved }
                }
                Outcome::Impossible(_) => Difference::Impossible,
                Outcome::Undecided(_) => Difference::Undecided,
            }
        };
        alternatives.push(Alternative { force, difference });
    }
    alternatives.sort_by_key(|alternative| alternative.difference.rank());
    Ok(alternatives)
}

/// What could be done otherwise with a step.
fn forces(problem: &Problem, plan: &Plan, id: &str) -> Vec<Force> {
    let (Some(step), Some(planned)) = (problem.steps.iter().find(|step| step.id == id), plan.steps.get(id)) else {
        return Vec::new();
    };
    let own = || id.to_owned();
    let chosen = &step.modes[planned.mode];
    let mut forces = Vec::new();
    for (index, mode) in step.modes.iter().enumerate() {
        if mode.place == chosen.place {
            let alike = |other: &Mode| other.t == mode.t && other.level == mode.level;
            let listed = |force: &Force| matches!(force, Force::Mode { mode, .. } if alike(&step.modes[*mode]));
            if !alike(chosen) && !forces.iter().any(listed) {
                forces.push(Force::Mode { step: own(), mode: index });
            }
        } else {
            let force = Force::Place { step: own(), place: mode.place.clone() };
            if !forces.contains(&force) {
                forces.push(force);
            }
        }
    }
    forces.push(Force::EndBy { step: own(), minute: planned.end - NUDGE });
    forces.push(Force::StartFrom { step: own(), minute: planned.start + NUDGE });
    let neighbours = problem.steps.iter().filter(|other| other.id != id && other.dish != step.dish);
    let same_place = neighbours.filter_map(|other| {
        let p = plan.steps.get(&other.id)?;
        (chosen.place.is_some() && other.modes[p.mode].place == chosen.place).then_some((other, p))
    });
    let (mut before, mut after) = (None, None);
    for (other, p) in same_place {
        if p.end <= planned.start && before.is_none_or(|(_, end)| p.end > end) {
            before = Some((other, p.end));
        }
        if p.start >= planned.end && after.is_none_or(|(_, start)| p.start < start) {
            after = Some((other, p.start));
        }
    }
    if let Some((other, _)) = before {
        forces.push(Force::Before { first: own(), second: other.id.clone() });
    }
    if let Some((other, _)) = after {
        forces.push(Force::Before { first: other.id.clone(), second: own() });
    }
    forces
}

/// The problem with a choice forced.
fn with(problem: &Problem, force: &Force) -> Problem {
    let mut problem = problem.clone();
    match force {
        Force::Place { step, place } => {
            for step in problem.steps.iter_mut().filter(|other| other.id == *step) {
                step.modes.retain(|mode| mode.place == *place);
            }
        }
        Force::Mode { step, mode } => {
            for step in problem.steps.iter_mut().filter(|other| other.id == *step) {
                step.modes = step.modes.get(*mode).cloned().into_iter().collect();
            }
        }
        Force::StartFrom { step, minute } => {
            for step in problem.steps.iter_mut().filter(|other| other.id == *step) {
                step.earliest = Some(step.earliest.map_or(*minute, |earliest| earliest.max(*minute)));
            }
        }
        Force::EndBy { step, minute } => {
            let minute = (*minute).max(0);
            for step in problem.steps.iter_mut().filter(|other| other.id == *step) {
                step.latest = Some(step.latest.map_or(minute, |latest| latest.min(minute)));
            }
        }
        Force::Before { first, second } => problem.links.push(Link {
            from: first.clone(),
            to: second.clone(),
            min: 0,
            max: None,
            stay: false,
            wait: Wait::default(),
            pools: BTreeMap::new(),
        }),
    }
    problem
}

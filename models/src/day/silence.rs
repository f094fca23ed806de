//! What silence means: what nobody logged went as planned, as long as everything before it did.

use std::collections::BTreeSet;

use super::state::{Day, Stage};
use crate::plan::Plan;
use crate::problem::{Link, Minute, Mode, Problem, Step};

/// Gives every step of which nothing was logged the stage that the plan has for it by now. For `silent` steps silence says
/// nothing: they are known not to have been started.
pub(super) fn assume(problem: &Problem, plan: &Plan, silent: &BTreeSet<String>, day: &mut Day) {
    let mut held: BTreeSet<&str> = BTreeSet::new();
    for step in in_order(problem) {
        let Some(planned) = plan.steps.get(&step.id) else { continue };
        let known = day.stage(&step.id);
        let next = match known {
            Stage::Waiting => {
                let before = problem.links.iter().filter(|link| link.to == step.id);
                let given_up = silent.contains(&step.id) || day.dropped.contains(&step.dish);
                let mut in_time = before.map(|link| lets_start(problem, plan, day, &held, link, planned.start));
                if given_up || !in_time.all(|in_time| in_time) {
                    held.insert(&step.id);
                    Stage::Waiting
                } else if planned.start >= day.now {
                    Stage::Waiting
                } else if planned.end <= day.now {
                    Stage::Done { mode: planned.mode, start: planned.start, end: planned.end, logged: false }
                } else {
                    Stage::Running { mode: planned.mode, start: planned.start, until: None, logged: false }
                }
            }
            // A step that runs ends as planned unless somebody said otherwise.
            Stage::Running { mode, start, until: None, .. } => {
                let end = expected_end(step.modes.get(mode), start, planned.end);
                if end <= day.now { Stage::Done { mode, start, end, logged: false } } else { known }
            }
            known => known,
        };
        day.steps.insert(step.id.clone(), next);
    }
    for course in &problem.courses {
        // A course goes out at its planned minute if all of it was done by then.
        let Some(&served) = plan.served.get(&course.id) else { continue };
        let put_off = day.put_off.contains_key(&course.id);
        let done = |step: &str| matches!(day.stage(step), Stage::Done { end, .. } if end <= served);
        if served < day.now && !put_off && course.sinks.iter().all(|sink| done(&sink.step)) {
            day.served.entry(course.id.clone()).or_insert(served);
        }
    }
}

/// Whether the step before lets one start at its planned minute. Its own stage must be settled.
fn lets_start(problem: &Problem, plan: &Plan, day: &Day, held: &BTreeSet<&str>, link: &Link, start: Minute) -> bool {
    let Some(before) = problem.steps.iter().find(|step| step.id == link.from) else { return true };
    // Nobody waits for what was given up, or what the last plan no longer needed.
    let Some(planned) = plan.steps.get(&before.id).filter(|_| !day.dropped.contains(&before.dish)) else { return true };
    let end = match day.stage(&before.id) {
        Stage::Done { end, .. } => Some(end),
        // They overlap by a negative gap.
        Stage::Running { until: Some(until), .. } => Some(until),
        Stage::Running { mode, start, .. } => Some(expected_end(before.modes.get(mode), start, planned.end)),
        Stage::Waiting => (!held.contains(before.id.as_str())).then_some(planned.end),
    };
    end.is_some_and(|end| end.saturating_add(link.min) <= start)
}

/// When a step that was started at `start` will be done: as planned, as far as its minutes allow.
fn expected_end(mode: Option<&Mode>, start: Minute, planned: Minute) -> Minute {
    mode.map_or(planned, |mode| planned.min(start.saturating_add(mode.max)).max(start.saturating_add(mode.min)))
}

/// The steps, each after those it follows; steps in a circle, which no sound problem has, are left out.
fn in_order(problem: &Problem) -> Vec<&Step> {
    let mut rest: Vec<&Step> = problem.steps.iter().collect();
    let mut order: Vec<&Step> = Vec::new();
    loop {
        let known: BTreeSet<&str> = rest.iter().map(|step| step.id.as_str()).collect();
        let follows =
            |step: &&Step| problem.links.iter().any(|link| link.to == step.id && known.contains(link.from.as_str()));
        let (later, ready): (Vec<&Step>, Vec<&Step>) = rest.into_iter().partition(follows);
        if ready.is_empty() {
            return order;
        }
        order.extend(ready);
        rest = later;
    }
}

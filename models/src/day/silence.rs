//! What silence means: what nobody logged went as planned; where what it follows or its cook was late, as soon after that as
//! it could. A cook whose last job is known to run on has not begun the next one.

use std::collections::{BTreeMap, BTreeSet};

use super::state::{Breakdown, Day, Stage};
use crate::plan::{Plan, PlannedStep};
use crate::problem::{Link, Minute, Mode, Problem, Step};

/// A cook begins the next thing while the last minutes of the one before go by.
const OVERLAP: Minute = 2;

/// Gives every step of which nothing was logged the stage that follows from the plan and from what was logged. For `silent`
/// steps silence says nothing: they are known not to have been started, as far as the plan is from before a minute.
pub(super) fn assume(problem: &Problem, plan: &Plan, silent: &BTreeMap<String, Minute>, day: &mut Day) {
    let mut held: BTreeSet<&str> = BTreeSet::new();
    for step in in_order(problem) {
        let Some(planned) = plan.steps.get(&step.id) else { continue };
        let known = day.stage(&step.id);
        let next = match known {
            Stage::Waiting => {
                let nowhere = stands_still(day, step.modes.get(planned.mode), planned.start);
                let unknown = silent.get(&step.id).is_some_and(|&until| planned.start < until);
                let given_up = unknown || day.dropped.contains(&step.dish) || nowhere;
                let start = (!given_up).then(|| begins(problem, plan, day, &held, step, planned)).flatten();
                match start {
                    None => {
                        held.insert(&step.id);
                        Stage::Waiting
                    }
                    Some(start) if start >= day.now => {
                        if start > planned.start {
                            held.insert(&step.id);
                        }
                        Stage::Waiting
                    }
                    Some(start) => {
                        let mode = planned.mode;
                        let end = expected_end(step.modes.get(mode), start, planned);
                        if end <= day.now {
                            Stage::Done { mode, start, end, logged: false }
                        } else {
                            Stage::Running { mode, start, until: None, logged: false }
                        }
                    }
                }
            }
            // A step that runs ends as planned unless somebody said otherwise.
            Stage::Running { mode, start, until: None, .. } => {
                let end = expected_end(step.modes.get(mode), start, planned);
                let over = end <= day.now && !stands_still(day, step.modes.get(mode), end);
                if over { Stage::Done { mode, start, end, logged: false } } else { known }
            }
            // Nobody has said that it takes longer still.
            Stage::Running { mode, start, until: Some(until), .. }
                if until <= day.now && !stands_still(day, step.modes.get(mode), until) =>
            {
                Stage::Done { mode, start, end: until, logged: false }
            }
            known => known,
        };
        day.steps.insert(step.id.clone(), next);
    }
    for course in &problem.courses {
        // A course goes out at its planned minute if all of it was done by then.
        let Some(&served) = plan.served.get(&course.id) else { continue };
        // A plan from before the guests said that they are late does not know when.
        let known = served >= course.serve.saturating_add(day.put_off.get(&course.id).copied().unwrap_or(0));
        let done = |step: &str| matches!(day.stage(step), Stage::Done { end, .. } if end <= served);
        if served < day.now && known && course.sinks.iter().all(|sink| done(&sink.step)) {
            day.served.entry(course.id.clone()).or_insert(served);
        }
    }
}

/// Whether the place of a step had broken down before a minute: nothing begins there, and nothing gets done.
fn stands_still(day: &Day, mode: Option<&Mode>, minute: Minute) -> bool {
    let place = mode.and_then(|mode| mode.place.as_ref());
    let whole = place.filter(|place| day.broken.get(*place) == Some(&Breakdown::Whole));
    whole.and_then(|place| day.broken_since.get(place)).is_some_and(|&since| since < minute)
}

/// When a step of which nothing is known was begun, or will be: at its planned minute, once what it follows is done and its
/// cooks have left what they were known to be busy with. `None` if something before it is known not to have begun.
fn begins(
    problem: &Problem,
    plan: &Plan,
    day: &Day,
    held: &BTreeSet<&str>,
    step: &Step,
    planned: &PlannedStep,
) -> Option<Minute> {
    let before = problem.links.iter().filter(|link| link.to == step.id);
    let ready = before.map(|link| ready(problem, plan, day, held, link));
    let start = ready.collect::<Option<Vec<_>>>()?.into_iter().flatten().fold(planned.start, Minute::max);
    let hands = step.modes.get(planned.mode).map_or(0, |mode| mode.hands);
    Some(if hands > 0 { with_hands(problem, plan, day, &step.id, hands, start) } else { start })
}

/// When what is before lets one start; `Some(None)` if nobody waits for it. Its own stage must be settled.
#[allow(clippy::option_option)] // Unknown, and known to be nothing, are not the same.
fn ready(problem: &Problem, plan: &Plan, day: &Day, held: &BTreeSet<&str>, link: &Link) -> Option<Option<Minute>> {
    let Some(before) = problem.steps.iter().find(|step| step.id == link.from) else { return Some(None) };
    // Nobody waits for what was given up, or what the last plan no longer needed.
    let Some(planned) = plan.steps.get(&before.id).filter(|_| !day.dropped.contains(&before.dish)) else {
        return Some(None);
    };
    let end = match day.stage(&before.id) {
        Stage::Done { end, .. } => end,
        // They overlap by a negative gap.
        Stage::Running { until: Some(until), .. } => until,
        Stage::Running { mode, start, .. } => expected_end(before.modes.get(mode), start, planned),
        Stage::Waiting if held.contains(before.id.as_str()) => return None,
        Stage::Waiting => planned.end,
    };
    Some(Some(end.saturating_add(link.min)))
}

/// The first minute from `start` on at which hands are free, as far as what is known to have gone otherwise than planned
/// keeps them busy.
fn with_hands(problem: &Problem, plan: &Plan, day: &Day, id: &str, hands: i64, start: Minute) -> Minute {
    let mut start = start;
    let mut busy: BTreeMap<&str, ([Minute; 2], i64, bool)> = BTreeMap::new();
    for step in problem.steps.iter().filter(|step| step.id != id) {
        let Some(planned) = plan.steps.get(&step.id) else { continue };
        let (mode, from, until, logged) = match day.stage(&step.id) {
            Stage::Waiting => (planned.mode, planned.start, planned.end, false),
            Stage::Running { mode, start, until, logged } => {
                let end = until.unwrap_or(expected_end(step.modes.get(mode), start, planned));
                (mode, start, end, logged || until.is_some())
            }
            Stage::Done { mode, start, end, logged } => (mode, start, end, logged),
        };
        let hands = step.modes.get(mode).map_or(0, |mode| mode.hands);
        let otherwise = logged && [from, until] != [planned.start, planned.end];
        if hands > 0 {
            busy.insert(&step.id, ([from, until], hands, otherwise));
        }
    }
    for _ in 0..busy.len() {
        let at = |(span, ..): &&([Minute; 2], i64, bool)| span[0] <= start && start < span[1] - OVERLAP;
        let taken: i64 = busy.values().filter(at).map(|own| own.1).sum();
        let free = busy.values().filter(at).filter(|own| own.2).map(|own| own.0[1]).min();
        match free.filter(|_| taken + hands > problem.hands_at(start)) {
            Some(free) => start = free,
            None => return start,
        }
    }
    start
}

/// When a step that was started at `start` will be done: as planned, as far as its minutes allow. What the plan had begin
/// then ends when the plan says, for a plan made during the day knows what was left of it.
fn expected_end(mode: Option<&Mode>, start: Minute, planned: &PlannedStep) -> Minute {
    if start == planned.start {
        return planned.end;
    }
    let within = |mode: &Mode| planned.end.min(start.saturating_add(mode.max)).max(start.saturating_add(mode.min));
    mode.map_or(planned.end, within)
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

//! What a new plan gives up, as a number: the prices that the documentation of this room lists.

use std::collections::BTreeMap;

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Mode, Step, Wait};

use super::changes;
use super::today::Today;

/// How much longer than the menu says food may stand, minutes, if that helps.
pub(super) const STRETCH: Minute = 45;
/// The rate of waiting past a rule, above all usual ones.
const PAST: i64 = 1_000;

pub(super) const LATE: i64 = 3;
const STALE: i64 = 2;
const ELSEWHERE: i64 = 3;
const MINUTES: i64 = 10;

/// Waiting that past so many minutes is past a rule.
pub(super) fn overdue(wait: Wait, within: Minute) -> Wait {
    Wait { soft: Some(within.max(0)), rate_after: wait.rate_after.max(wait.rate).max(PAST), ..wait }
}

/// Whether a step may last longer than the menu says where there is no better way: it is elastic, and does not cook.
pub(super) fn may_last(step: &Step, mode: &Mode) -> bool {
    let keeps = matches!(step.kind.as_str(), "hold" | "keep" | "warm" | "rest" | "chill" | "prove");
    mode.max > mode.min && mode.hands == 0 && (mode.place.is_none() || keeps)
}

/// What a plan of the whole day gives up.
pub(super) fn price(today: &Today<'_>, plan: &Plan) -> i64 {
    let courses = &today.problem.courses;
    let late = courses.iter().map(|course| {
        let served = plan.served.get(&course.id).copied().unwrap_or(course.serve);
        course.weight * (served - course.serve).max(0)
    });
    let [elsewhere, moved, minutes] = changes::size(today, plan);
    LATE * late.sum::<i64>() + STALE * stale(today, plan) + ELSEWHERE * elsewhere + moved + minutes / MINUTES
}

/// Minutes past the rules of how long food may wait.
pub(super) fn stale(today: &Today<'_>, plan: &Plan) -> Minute {
    let steps: BTreeMap<&str, &Step> = today.problem.steps.iter().map(|step| (step.id.as_str(), step)).collect();
    let planned = |step: &str| plan.steps.get(step);
    let gaps = today.problem.links.iter().filter_map(|link| {
        let gap = planned(&link.to)?.start - planned(&link.from)?.end;
        Some((gap - link.max?).max(0))
    });
    let lasts = plan.steps.iter().filter_map(|(id, own)| {
        let mode = steps.get(id.as_str())?.modes.get(own.mode)?;
        Some((own.end - own.start - mode.max).max(0))
    });
    let stands = today.problem.courses.iter().flat_map(|course| {
        let served = plan.served.get(&course.id).copied();
        course.sinks.iter().filter_map(move |sink| Some((served? - planned(&sink.step)?.end - course.together).max(0)))
    });
    gaps.chain(lasts).chain(stands).sum()
}

//! What a new plan is worth: one price for everything that an evening may give up.
//!
//! The rest of an evening is planned by the same rules as the menu, and by the same search. What has happened may leave no
//! plan that keeps all of them, or only one that is far too late. Then rules are not dropped but sold, each minute past a
//! rule at a price, so that as few minutes as possible are past any.
//!
//! 1. **Safety is not for sale.** Nothing cooks for more or fewer minutes than the menu says, nothing that must follow at
//!    once is parted from what it follows, no place takes more than it holds, no oven is two temperatures at once. Only what
//!    rests, rises or is kept may last longer, and food may stand [`STRETCH`] minutes longer than the menu allows; more than
//!    that only where what has happened already leaves no other way. The hazards are looked for in every new plan as in every
//!    other, and shown before everything else.
//! 2. **Lateness**: a minute costs its course's weight, three times.
//! 3. **Food past its best**: a minute that food stands, waits, rests or rises longer than the menu allows costs two. In the
//!    search it is waiting, at a rate above all others of a menu: the ordinary objective and the ordinary checker see to it.
//! 4. **What people already know**: a job that goes to another place costs three, a job at another time one, and ten minutes of
//!    moving one more. So a plan is only replaced by one that gains more than it unsettles.
//!
//! The plan with the lowest price is handed out. The figures are our choice.

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

//! The plan that was handed out, carried on with: pushed on where it must be, pulled forward where that helps.

use std::collections::BTreeSet;

use rangewright_models::check::check;
use rangewright_models::day::Stage;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Step};
use rangewright_models::schedule::schedule_with;

use super::rest::{Rest, Strictness};
use super::shift::{self, Frame, Given};
use super::today::Today;
use super::{Found, changes, price, unavoidable};
use crate::order::{Order, Touches, end, start};

/// A plan pushed on by what has happened, in the rest that it keeps to.
#[derive(Clone)]
pub(super) struct Pushed {
    pub(super) rest: Rest,
    pub(super) plan: Plan,
    pub(super) whole: Plan,
}

impl Pushed {
    pub(super) fn found(self, proved: bool) -> Found {
        let Pushed { rest, plan, whole } = self;
        Found { rest, plan, whole, proved }
    }
}

/// A plan pushed on by what has happened, if the checker accepts that: with each cook's work in its order, or, if that is
/// less late or moves less, with work taken as it comes. And the limits that what has happened breaks in any order.
pub(super) fn push(today: &Today<'_>, plan: &Plan, strictness: Strictness) -> (Option<Pushed>, BTreeSet<Given>) {
    let mut given = BTreeSet::new();
    let pushed = push_giving(today, plan, strictness, &mut given);
    (pushed, given)
}

/// What of the work is done in passing.
fn touches(strictness: Strictness) -> Touches {
    if strictness > Strictness::Menu { Touches::Short } else { Touches::Pass }
}

fn push_giving(today: &Today<'_>, plan: &Plan, strictness: Strictness, given: &mut BTreeSet<Given>) -> Option<Pushed> {
    let order = Order::new(&today.problem, plan, &today.crew, &today.old_day, touches(strictness))?;
    let frame = Frame::of(today, &order, plan)?;
    let overtime = strictness >= Strictness::Late;
    let attempt = |order: &Order<'_>| -> Option<Pushed> {
        let mut given = BTreeSet::new();
        let loose = (strictness > Strictness::Menu).then_some(&mut given);
        let at = shift::earliest(order, &frame, overtime, loose)?;
        let rest = Rest::new(today, strictness, &given)?;
        let whole = shift::timed(order, plan, &at);
        let plan = rest.plan(today, &whole)?;
        check(&rest.problem, &plan).ok()?;
        let whole = rest.whole(today, &plan);
        Some(Pushed { rest, plan, whole })
    };
    let in_order = attempt(&order);
    if in_order.as_ref().is_some_and(|own| changes::size(today, &own.whole) == [0, 0, 0]) {
        return in_order;
    }
    let mut as_it_comes = order;
    let mut free = as_it_comes.clone();
    free.drop_hands();
    let loose = (strictness > Strictness::Menu).then_some(given);
    let at = shift::earliest(&free, &frame, overtime, loose);
    let other = at.and_then(|at| {
        as_it_comes.take_hands_as_they_come(&at);
        attempt(&as_it_comes)
    });
    let worth = |own: &Pushed| (price::price(today, &own.whole), changes::size(today, &own.whole));
    let best = [in_order, other].into_iter().flatten().min_by_key(worth)?;
    let late = best.plan.lateness > unavoidable(&best.rest.problem);
    let sooner = late.then(|| ahead(today, &as_it_comes, plan, strictness)).flatten();
    [Some(best), sooner].into_iter().flatten().min_by_key(worth)
}

/// The same order with courses as early as they can be; everything before them no sooner than that asks for. What was put off
/// for something that then took less long is so taken back.
fn ahead(today: &Today<'_>, order: &Order<'_>, plan: &Plan, strictness: Strictness) -> Option<Pushed> {
    let mut at_once = plan.clone();
    for own in at_once.steps.values_mut() {
        (own.start, own.end) = (own.start.min(today.now()), own.end.min(today.now()));
    }
    let frame = Frame::of(today, order, &at_once)?;
    let mut given = BTreeSet::new();
    let loose = (strictness > Strictness::Menu).then_some(&mut given);
    let at = shift::earliest(order, &frame, strictness >= Strictness::Late, loose)?;
    let late = shift::latest(order, &at, &as_told(today, &today.problem.steps, &today.stages, &at));
    let rest = Rest::new(today, strictness, &given)?;
    let timed = rest.plan(today, &shift::timed(order, plan, &late))?;
    check(&rest.problem, &timed).ok()?;
    let whole = rest.whole(today, &timed);
    Some(Pushed { rest, plan: timed, whole })
}

/// The minutes of the last plan, where these are sooner and may still be put later.
fn as_told(today: &Today<'_>, steps: &[Step], stages: &[Stage], at: &[Minute]) -> Vec<Minute> {
    let mut most = at.to_vec();
    for (index, (step, stage)) in steps.iter().zip(stages).enumerate() {
        let Some(old) = today.old.steps.get(&step.id) else { continue };
        match stage {
            Stage::Waiting => {
                most[start(index)] = most[start(index)].max(old.start);
                most[end(index)] = most[end(index)].max(old.end);
            }
            // What keeps in the refrigerator stays there until its planned minute.
            Stage::Running { until: None, .. } => most[end(index)] = most[end(index)].max(old.end),
            Stage::Running { .. } | Stage::Done { .. } => {}
        }
    }
    most
}

/// The ways that a search found, in the plan that was handed out: it then moves less than the search did. Steps that need
/// not go elsewhere after all stay where the cooks know them to be.
pub(super) fn transplant(today: &Today<'_>, rest: &Rest, searched: &Plan, strictness: Strictness) -> Option<Pushed> {
    let whole = rest.whole(today, searched);
    let mut elsewhere = changes::elsewhere(today, &whole);
    let with = |elsewhere: &[(String, usize)]| {
        let mut plan = today.old.clone();
        for (step, mode) in elsewhere {
            plan.steps.get_mut(step)?.mode = *mode;
        }
        push(today, &plan, strictness).0.filter(|own| own.plan.lateness <= searched.lateness)
    };
    let mut best = with(&elsewhere)?;
    for (step, _) in elsewhere.clone() {
        let fewer: Vec<(String, usize)> = elsewhere.iter().filter(|(own, _)| *own != step).cloned().collect();
        if let Some(better) = with(&fewer) {
            (best, elsewhere) = (better, fewer);
        }
    }
    Some(best)
}

/// Minutes that the search moved needlessly are moved back, first what it put later, then what it put earlier.
pub(super) fn pull(today: &Today<'_>, rest: &Rest, plan: Plan, strictness: Strictness) -> Plan {
    pulled(today, rest, &plan, strictness).unwrap_or(plan)
}

/// The day of those steps that a plan still has.
pub(super) fn kept<'a>(today: &Today<'a>, whole: &Plan) -> Today<'a> {
    let mut kept = today.clone();
    let planned = |step: &Step| whole.steps.contains_key(&step.id);
    let both = today.problem.steps.iter().zip(&today.stages);
    kept.stages = both.filter(|(step, _)| planned(step)).map(|(_, stage)| *stage).collect();
    kept.problem.steps.retain(planned);
    kept
}

fn pulled(today: &Today<'_>, rest: &Rest, plan: &Plan, strictness: Strictness) -> Option<Plan> {
    let whole = rest.whole(today, plan);
    let kept = kept(today, &whole);
    if kept.problem.steps.len() != today.problem.steps.len() {
        return None;
    }
    let day = schedule_with(&kept.problem, &whole, &today.crew);
    let order = Order::new(&kept.problem, &whole, &today.crew, &day, touches(strictness))?;
    let mut nearest = whole.clone();
    for (id, own) in &mut nearest.steps {
        if let Some(old) = today.old.steps.get(id) {
            own.start = own.start.min(old.start);
            own.end = own.end.min(old.end);
        }
    }
    let frame = Frame::of(&kept, &order, &nearest)?;
    let mut given = BTreeSet::new();
    let loose = (strictness > Strictness::Menu).then_some(&mut given);
    let at = shift::earliest(&order, &frame, strictness >= Strictness::Late, loose)?;
    let most = as_told(today, &kept.problem.steps, &kept.stages, &at);
    let late = shift::latest(&order, &at, &most);
    [late, at].into_iter().find_map(|at| {
        let timed = rest.plan(today, &shift::timed(&order, &whole, &at))?;
        let better = timed.lateness <= plan.lateness && check(&rest.problem, &timed).is_ok();
        better.then_some(timed)
    })
}

//! Room in a plan of the rest: what is in doubt is begun a little sooner, as far as the menu lets it wait.
//!
//! A plan that was pushed on, or searched, ends what is served last at the minute of serving: whatever then takes longer makes
//! its course late, and is not known before it does. So before a plan is handed out its minutes are moved to where there is
//! room for what is in doubt: first between the last job of a dish and its course, where food may stand for some minutes, then
//! before that. Ways, cooks and order stay, no course is served at another minute, and nothing waits longer than the menu
//! allows. How late the evening is then likely to become is [played](crate::odds); that gain has to be worth more than what
//! moves.

use std::collections::{BTreeMap, BTreeSet};

use rangewright_models::check::check;
use rangewright_models::problem::{Minute, Step};
use rangewright_models::schedule::schedule_with;

use super::shift::{self, Frame};
use super::today::Today;
use super::{Found, price, push};
use crate::odds::{Dice, Ranges, WITHIN, odds, ranges};
use crate::order::{Order, Touches, end};

/// By how much of its minutes a job is in doubt where the menu does not say, percent (our assumption).
const DOUBT: u32 = 20;
/// The parts of the doubt that there may be room for, percent.
const PARTS: [Minute; 3] = [50, 100, 150];
/// No job is taken to be in doubt by more than this, minutes.
const MOST: Minute = 60;
/// What the course that weighs most counts, weighed against what moves (our choice).
const HEAVIEST: i64 = 3;
/// Evenings that are played to see what it brings.
const EVENINGS: usize = 100;

/// The plan with as much room as is worth it.
pub(super) fn with_room(today: &Today<'_>, found: Found) -> Found {
    if today.as_planned {
        return found;
    }
    let doubts = ranges(&found.rest.problem, &found.plan, DOUBT);
    let Some(likely) = likely_late(today, &found, &doubts) else { return found };
    let worth = |own: &Found, late: i64| price::price(today, &own.whole) + late;
    let first = (worth(&found, likely), found);
    let found = &first.1;
    let mut best: Option<(i64, Found)> = None;
    for part in PARTS {
        let Some(own) = roomier(today, found, &doubts, part) else { continue };
        let Some(late) = likely_late(today, &own, &doubts) else { continue };
        let worth = worth(&own, late);
        if worth < best.as_ref().map_or(first.0, |best| best.0) {
            best = Some((worth, own));
        }
    }
    best.unwrap_or(first).1
}

/// The price of the minutes by which courses are likely to be later than planned. The course that weighs most counts as it does
/// on a menu of three courses, so that moving a few jobs is worth the same on every menu.
fn likely_late(today: &Today<'_>, found: &Found, doubts: &Ranges) -> Option<i64> {
    let dice = Dice { evenings: EVENINGS, ..Dice::default() };
    let odds = odds(&found.rest.problem, &found.plan, &today.crew, doubts, dice).ok()?;
    let heaviest = found.rest.problem.courses.iter().map(|course| course.weight).max()?.max(1);
    let both = found.rest.problem.courses.iter().zip(&odds.courses);
    let weighted = both.map(|(course, own)| {
        // The area under the share of evenings that are later than each of the limits.
        let later = own.kept.map(|kept| (EVENINGS - kept) as i64);
        let steps = WITHIN.windows(2).zip(later.windows(2));
        let area: i64 = steps.map(|(within, later)| (within[1] - within[0]) * (later[0] + later[1])).sum();
        price::LATE * HEAVIEST * course.weight * area / heaviest
    });
    Some(weighted.sum::<i64>() / (2 * EVENINGS as i64))
}

/// The same plan with room for a part of what is in doubt, if there is any to be had.
fn roomier(today: &Today<'_>, found: &Found, doubts: &Ranges, part: Minute) -> Option<Found> {
    let kept = push::kept(today, &found.whole);
    let day = schedule_with(&kept.problem, &found.whole, &today.crew);
    let order = Order::new(&kept.problem, &found.whole, &today.crew, &day, Touches::Short)?;
    let mut at_once = found.whole.clone();
    for own in at_once.steps.values_mut() {
        (own.start, own.end) = (own.start.min(today.now()), own.end.min(today.now()));
    }
    let mut frame = Frame::of(&kept, &order, &at_once)?;
    frame.serve_as_planned(&order);
    let mut given = BTreeSet::new();
    let soonest = shift::earliest(&order, &frame, true, Some(&mut given))?;
    let wanted = wanted(&order, &late(found, doubts), part);
    let most: Vec<Minute> = wanted.into_iter().zip(&soonest).map(|(minute, &soonest)| minute.max(soonest)).collect();
    let at = shift::latest(&order, &soonest, &most);
    let plan = found.rest.plan(today, &shift::timed(&order, &found.whole, &at))?;
    let good = plan.lateness <= found.plan.lateness && check(&found.rest.problem, &plan).is_ok();
    let whole = found.rest.whole(today, &plan);
    let fresh = price::stale(today, &whole) <= price::stale(today, &found.whole);
    (good && fresh).then(|| Found { rest: found.rest.clone(), plan, whole, proved: found.proved })
}

/// How many minutes each step may take longer.
fn late(found: &Found, doubts: &Ranges) -> BTreeMap<String, Minute> {
    let own = |step: &Step| {
        let least = step.modes.get(found.plan.steps.get(&step.id)?.mode)?.min;
        Some((step.id.clone(), (doubts.get(&step.id)?.longest - least).clamp(0, MOST)))
    };
    found.rest.problem.steps.iter().filter_map(own).collect()
}

/// The minute by which each event should have come, so that there is room for a part of the doubt that has gathered by then.
fn wanted(order: &Order<'_>, late: &BTreeMap<String, Minute>, part: Minute) -> Vec<Minute> {
    let doubt = gathered(order, late);
    let mut wanted = order.planned.clone();
    // How much room there is between an event and what is served of it.
    let mut room: Vec<Minute> = vec![Minute::MAX; order.planned.len()];
    for &event in order.sequence.iter().rev() {
        let mut own = Minute::MAX;
        for arc in order.arcs.iter().filter(|arc| arc.from == event) {
            let there = room[arc.to];
            if there == Minute::MAX {
                continue;
            }
            let more = (doubt[event] * part / 100 - there).clamp(0, order.most_room(arc));
            wanted[event] = wanted[event].min(wanted[arc.to] - arc.least - more);
            own = own.min(there + more);
        }
        let served = order.step_of(event).is_none();
        room[event] = if served { own.min(0) } else { own };
    }
    wanted
}

/// How many minutes each event may come late, as doubts add up along the plan: the root of the sum of their squares.
fn gathered(order: &Order<'_>, late: &BTreeMap<String, Minute>) -> Vec<Minute> {
    let mut squares = vec![0_i64; order.planned.len()];
    for &event in &order.sequence {
        let before = order.arcs.iter().filter(|arc| arc.to == event).map(|arc| squares[arc.from]).max().unwrap_or(0);
        let ends = order.step_of(event).filter(|&step| event == end(step));
        let own = ends.and_then(|step| late.get(&order.runs[step].step.id)).copied().unwrap_or(0);
        squares[event] = before + own * own;
    }
    squares.into_iter().map(|square| square.isqrt()).collect()
}

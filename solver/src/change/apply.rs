//! Carrying out changes.

use std::collections::BTreeSet;

use rangewright_models::problem::{Hours, Link, Minute, Mode, Place, Problem, Shift, Wait};

use super::{Change, crew, extra};
use crate::why::{Fact, LAST_MINUTE, without};

/// Half a day lies between the work of the day before and the opening.
const NIGHT: Minute = 720;
/// Minutes in a day.
const DAY: Minute = 1_440;

/// The problem with these changes made. Numbers stay within their legal ranges; an id that does not exist changes nothing.
pub fn changed(problem: &Problem, changes: &[Change]) -> Problem {
    let mut problem = problem.clone();
    for change in changes {
        apply(&mut problem, change);
    }
    problem
}

fn apply(problem: &mut Problem, change: &Change) {
    match change {
        Change::KeepLonger { step, minutes } => {
            for_modes_of(problem, step, |mode| mode.max = longer(mode.max, *minutes));
        }
        Change::WaitLonger { from, to, minutes } => {
            for link in problem.links.iter_mut().filter(|link| link.from == *from && link.to == *to) {
                link.max = link.max.map(|max| longer(max, *minutes));
                link.stay &= *minutes == 0;
            }
        }
        Change::ServeLater { course, minutes } => {
            for_course(problem, course, |course| course.max_slip = longer(course.max_slip, *minutes));
        }
        Change::SpreadOut { course, minutes } => {
            for_course(problem, course, |course| course.together = longer(course.together, *minutes));
        }
        Change::PauseLonger { course, minutes } => for_course(problem, course, |course| {
            if let Some(after) = &mut course.after {
                after.max = after.max.map(|max| longer(max, *minutes));
            }
        }),
        Change::AcceptDegrees { step, degrees } => for_modes_of(problem, step, |mode| {
            mode.t = mode.t.map(|[lo, hi]| [(lo - degrees).max(-40), (hi + degrees).min(600)]);
        }),
        Change::StartEarlier { step, minutes } => {
            for step in problem.steps.iter_mut().filter(|other| other.id == *step) {
                step.earliest = step.earliest.map(|earliest| (earliest - minutes).max(0));
            }
        }
        Change::EndLater { step, minutes } => {
            for step in problem.steps.iter_mut().filter(|other| other.id == *step) {
                step.latest = step.latest.map(|latest| longer(latest, *minutes));
            }
        }
        Change::SmallerPan { step, millimetres } => for_modes_of(problem, step, |mode| {
            mode.pan = mode.pan.map(|sides| sides.map(|side| (side - millimetres).max(1)));
        }),
        Change::Cover { step } => for_modes_of(problem, step, |mode| mode.wet = false),
        Change::OpenEarlier { minutes } => open_earlier(problem, *minutes),
        Change::DayBefore { minutes } => day_before(problem, *minutes),
        Change::MoreOf { pool, amount } => {
            if let Some(have) = problem.pools.get_mut(pool) {
                *have = (*have + amount).min(1_000_000);
            }
        }
        Change::MoreBurners { place, count } => {
            if let Some(Place::Hob(hob)) = problem.places.iter_mut().find(|other| other.id() == place) {
                hob.count = (hob.count + count).min(1_000);
            }
        }
        Change::MoreRacks { place, count } => {
            if let Some(Place::Cavity(cavity)) = problem.places.iter_mut().find(|other| other.id() == place) {
                cavity.racks = (cavity.racks + count).min(20);
            }
        }
        Change::MoreHands { hands } => {
            for shift in &mut problem.shifts {
                shift.hands = (shift.hands + hands).min(1_000);
            }
            if !problem.cooks.is_empty() {
                crew::add(problem, *hands);
            }
        }
        Change::Second { place } => extra::second(problem, place),
        Change::Drawer => extra::drawer(problem),
        Change::Ahead { dish, minutes } => ahead(problem, dish, *minutes),
        Change::DropDish { dish } => *problem = without(problem, &[Fact::Dish { dish: dish.clone() }]),
    }
}

fn longer(minutes: Minute, by: Minute) -> Minute {
    (minutes + by).min(LAST_MINUTE)
}

fn for_modes_of(problem: &mut Problem, id: &str, change: impl FnMut(&mut Mode)) {
    problem.steps.iter_mut().filter(|step| step.id == id).flat_map(|step| &mut step.modes).for_each(change);
}

fn for_course(problem: &mut Problem, id: &str, change: impl FnMut(&mut rangewright_models::problem::Course)) {
    problem.courses.iter_mut().filter(|course| course.id == id).for_each(change);
}

fn open_earlier(problem: &mut Problem, minutes: Minute) {
    let opening = problem.opening;
    problem.opening = (opening - minutes).max(0);
    // The first shift of the day of the opening starts sooner by the same time; overlapping an earlier one is no use.
    if let Some(first) = problem.shifts.iter_mut().filter(|shift| shift.end > opening).min_by_key(|shift| shift.start) {
        first.start = (first.start - minutes).max(0);
    }
    for cook in &mut problem.cooks {
        let first = cook.shifts.iter_mut().filter(|hours| hours.end > opening).min_by_key(|hours| hours.start);
        if let Some(first) = first {
            first.start = (first.start - minutes).max(0);
        }
    }
}

fn day_before(problem: &mut Problem, minutes: Minute) {
    if problem.opening < DAY {
        later_by_a_day(problem);
    }
    let end = (problem.opening - NIGHT).max(0);
    let start = (end - minutes).max(0);
    problem.opening = start;
    if start < end && problem.cooks.is_empty() {
        problem.shifts.insert(0, Shift { start, end, hands: 1 });
    } else if start < end {
        // Whoever may do it can come.
        problem.cooks.iter_mut().for_each(|cook| cook.shifts.insert(0, Hours { start, end }));
    }
}

/// Moves everything, so that there is a day before.
fn later_by_a_day(problem: &mut Problem) {
    problem.opening += DAY;
    for shift in &mut problem.shifts {
        shift.start += DAY;
        shift.end += DAY;
    }
    for hours in problem.cooks.iter_mut().flat_map(|cook| &mut cook.shifts) {
        hours.start += DAY;
        hours.end += DAY;
    }
    for course in &mut problem.courses {
        course.serve += DAY;
    }
    for step in &mut problem.steps {
        step.earliest = step.earliest.map(|minute| minute + DAY);
        step.latest = step.latest.map(|minute| minute + DAY);
    }
}

/// Only links between which the food keeps cold are opened, so that nothing stands warm through the night.
fn ahead(problem: &mut Problem, dish: &str, minutes: Minute) {
    let own: BTreeSet<String> =
        problem.steps.iter().filter(|step| step.dish == dish).map(|step| step.id.clone()).collect();
    let cold =
        |link: &&mut Link| own.contains(&link.from) && own.contains(&link.to) && link.wait.rate == 0 && !link.stay;
    let mut links: Vec<&mut Link> = problem.links.iter_mut().filter(cold).collect();
    if links.is_empty() {
        return;
    }
    for link in &mut links {
        (link.max, link.wait) = (None, Wait::default());
    }
    let served = problem.courses.iter().filter(|course| course.sinks.iter().any(|sink| own.contains(&sink.step)));
    let Some(serve) = served.map(|course| course.serve).min() else { return };
    for step in problem.steps.iter_mut().filter(|step| own.contains(&step.id)) {
        step.earliest = None;
    }
    let ends = problem.cooks.iter().flat_map(|cook| &cook.shifts).map(|hours| hours.end);
    if problem.shifts.iter().map(|shift| shift.end).chain(ends).any(|end| end <= serve - NIGHT) {
        return;
    }
    let before = problem.opening;
    day_before(problem, minutes);
    let today = if before < DAY { before + DAY } else { before };
    for step in problem.steps.iter_mut().filter(|step| !own.contains(&step.id)) {
        step.earliest = Some(step.earliest.map_or(today, |earliest| earliest.max(today)));
    }
}

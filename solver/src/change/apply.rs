//! Carrying out changes.

use rangewright_models::problem::{Minute, Mode, Place, Problem, Shift, Step};

use super::Change;
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
        }
        Change::Second { place } => second(problem, place),
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
}

fn day_before(problem: &mut Problem, minutes: Minute) {
    if problem.opening < DAY {
        later_by_a_day(problem);
    }
    let end = (problem.opening - NIGHT).max(0);
    let start = (end - minutes).max(0);
    problem.opening = start;
    if start < end {
        problem.shifts.insert(0, Shift { start, end, hands: 1 });
    }
}

/// Moves everything, so that there is a day before.
fn later_by_a_day(problem: &mut Problem) {
    problem.opening += DAY;
    for shift in &mut problem.shifts {
        shift.start += DAY;
        shift.end += DAY;
    }
    for course in &mut problem.courses {
        course.serve += DAY;
    }
    for step in &mut problem.steps {
        step.earliest = step.earliest.map(|minute| minute + DAY);
        step.latest = step.latest.map(|minute| minute + DAY);
    }
}

/// A twin of a place; every mode there gets a twin, too.
fn second(problem: &mut Problem, id: &str) {
    let Some(place) = problem.places.iter().find(|place| place.id() == id) else { return };
    let mut twin = place.clone();
    let mut name = format!("second {id}");
    while problem.places.iter().any(|place| place.id() == name) {
        name.insert_str(0, "another ");
    }
    match &mut twin {
        Place::Cavity(cavity) => cavity.id.clone_from(&name),
        Place::Hob(hob) => hob.id.clone_from(&name),
        Place::Top(top) => top.id.clone_from(&name),
    }
    problem.places.push(twin);
    for step in &mut problem.steps {
        add_twins(step, id, &name);
    }
}

fn add_twins(step: &mut Step, id: &str, name: &str) {
    let there = step.modes.iter().filter(|mode| mode.place.as_deref() == Some(id));
    let twins: Vec<Mode> = there.map(|mode| Mode { place: Some(name.to_owned()), ..mode.clone() }).collect();
    step.modes.extend(twins);
}

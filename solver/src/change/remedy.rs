//! What would turn a "no" into a "yes", tried by the solver and not guessed.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Place, Problem};
use serde::{Deserialize, Serialize};

use super::{Change, changed};
use crate::probe::{Finding, Probe};
use crate::why::{Explanation, Fact};
use crate::{Error, Limits};

/// Changes that make a menu possible, with a plan that shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Remedy {
    /// What to change; more than one only where none alone was enough.
    pub changes: Vec<Change>,
    /// The number in the change (minutes, degrees, hands) is the least that works; false if a limit struck in between.
    pub least: bool,
    /// A plan of the changed problem that the checker accepts. It shows that the change is enough; it is not the best plan.
    pub plan: Plan,
}

/// The most minutes a remedy asks for: two hours and a bit.
const MOST_MINUTES: i64 = 128;
/// The most degrees a remedy asks for.
const MOST_DEGREES: i64 = 32;
/// The most millimetres a remedy asks a pan to be smaller.
const MOST_MILLIMETRES: i64 = 128;
/// The most of anything that is counted: burners, racks, hands.
const MOST_COUNT: i64 = 3;
/// Probes that find the least number of a change: 256 minutes are halved so often.
const HALVINGS: usize = 8;
/// Pairs of changes tried when none alone is enough.
const MOST_PAIRS: usize = 60;

/// Changes that each make an impossible problem possible, the smallest first ([`Change::size`]).
///
/// Only changes that touch the conflict are tried: no other could help. Each one offered was carried out and a plan of the
/// changed problem found; the numbers are the least that work. If no change alone is enough, pairs are tried, and if no pair
/// is, all of them at once, less what is not needed.
///
/// # Errors
/// As [`solve`](crate::solve).
pub fn remedies(problem: &Problem, explanation: &Explanation, limits: &Limits<'_>) -> Result<Vec<Remedy>, Error> {
    let mut probe = Probe::new(limits);
    let mut largest: Vec<Change> = candidates(problem, &explanation.facts);
    largest.sort_by_key(Change::size);
    largest.dedup();
    // Half of the work is for trying each change at its largest, the rest for finding the least number that will do.
    let mut enough = Vec::new();
    for (index, change) in largest.iter().enumerate() {
        probe.share(2 * (largest.len() - index));
        if let Finding::Plan(plan) = probe.find(&changed(problem, std::slice::from_ref(change)))? {
            enough.push((change, plan));
        }
    }
    let mut found = Vec::new();
    for (index, (change, plan)) in enough.iter().enumerate() {
        probe.share(HALVINGS * (enough.len() - index));
        found.push(shrink(problem, change, plan.clone(), &mut probe)?);
    }
    if found.is_empty() {
        let pairs = largest.iter().enumerate().flat_map(|(index, a)| largest[index + 1..].iter().map(move |b| (a, b)));
        let mut pairs: Vec<[Change; 2]> = pairs.map(|(a, b)| [a.clone(), b.clone()]).collect();
        pairs.sort_by_key(|pair| pair.iter().map(Change::size).sum::<i64>());
        pairs.truncate(MOST_PAIRS);
        for (index, pair) in pairs.iter().enumerate() {
            probe.share(2 * (pairs.len() - index));
            if let Finding::Plan(plan) = probe.find(&changed(problem, pair))? {
                found.push(Remedy { changes: pair.to_vec(), least: false, plan });
            }
        }
    }
    if found.is_empty() {
        found.extend(several(problem, &largest, &mut probe)?);
    }
    found.sort_by_key(|remedy| remedy.changes.iter().map(Change::size).sum::<i64>());
    Ok(found)
}

/// All changes at once, but for dishes left off the menu; then without each that is not needed, the largest first.
fn several(problem: &Problem, largest: &[Change], probe: &mut Probe<'_>) -> Result<Option<Remedy>, Error> {
    let mut changes: Vec<Change> =
        largest.iter().filter(|change| !matches!(change, Change::DropDish { .. })).cloned().collect();
    probe.share(1 + changes.len());
    let Finding::Plan(mut plan) = probe.find(&changed(problem, &changes))? else { return Ok(None) };
    for index in (0..changes.len()).rev() {
        let mut fewer = changes.clone();
        fewer.remove(index);
        if let Finding::Plan(found) = probe.find(&changed(problem, &fewer))? {
            (changes, plan) = (fewer, found);
        }
    }
    Ok(Some(Remedy { changes, least: false, plan }))
}

/// The same change with the least number that still works, by halving.
fn shrink(problem: &Problem, change: &Change, plan: Plan, probe: &mut Probe<'_>) -> Result<Remedy, Error> {
    let mut best = (change.clone(), plan);
    let mut least = true;
    let Some(mut enough) = number(change) else {
        return Ok(Remedy { changes: vec![best.0], least, plan: best.1 });
    };
    let mut too_little = 0;
    while enough - too_little > 1 {
        let middle = (enough + too_little) / 2;
        let smaller = with_number(change, middle);
        match probe.find(&changed(problem, std::slice::from_ref(&smaller)))? {
            Finding::Plan(plan) => {
                enough = middle;
                best = (smaller, plan);
            }
            Finding::None => too_little = middle,
            Finding::Unknown => {
                least = false;
                too_little = middle;
            }
        }
    }
    Ok(Remedy { changes: vec![best.0], least, plan: best.1 })
}

/// The number that can be made smaller, if there is one.
fn number(change: &Change) -> Option<i64> {
    match change {
        Change::KeepLonger { minutes, .. }
        | Change::WaitLonger { minutes, .. }
        | Change::ServeLater { minutes, .. }
        | Change::SpreadOut { minutes, .. }
        | Change::PauseLonger { minutes, .. }
        | Change::StartEarlier { minutes, .. }
        | Change::EndLater { minutes, .. }
        | Change::OpenEarlier { minutes }
        | Change::Ahead { minutes, .. }
        | Change::DayBefore { minutes } => Some(*minutes),
        Change::SmallerPan { millimetres, .. } => Some(*millimetres),
        Change::AcceptDegrees { degrees, .. } => Some(*degrees),
        Change::MoreOf { amount, .. } => Some(*amount),
        Change::MoreBurners { count, .. } | Change::MoreRacks { count, .. } => Some(*count),
        Change::MoreHands { hands } => Some(*hands),
        Change::Cover { .. } | Change::Second { .. } | Change::Drawer | Change::DropDish { .. } => None,
    }
}

fn with_number(change: &Change, number: i64) -> Change {
    let mut change = change.clone();
    match &mut change {
        Change::KeepLonger { minutes, .. }
        | Change::WaitLonger { minutes, .. }
        | Change::ServeLater { minutes, .. }
        | Change::SpreadOut { minutes, .. }
        | Change::PauseLonger { minutes, .. }
        | Change::StartEarlier { minutes, .. }
        | Change::EndLater { minutes, .. }
        | Change::OpenEarlier { minutes }
        | Change::Ahead { minutes, .. }
        | Change::DayBefore { minutes } => *minutes = number,
        Change::SmallerPan { millimetres, .. } => *millimetres = number,
        Change::AcceptDegrees { degrees, .. } => *degrees = number,
        Change::MoreOf { amount, .. } => *amount = number,
        Change::MoreBurners { count, .. } | Change::MoreRacks { count, .. } => *count = number,
        Change::MoreHands { hands } => *hands = number,
        Change::Cover { .. } | Change::Second { .. } | Change::Drawer | Change::DropDish { .. } => {}
    }
    change
}

/// The changes that could lift a fact of the conflict, each as large as one would ask for.
fn candidates(problem: &Problem, facts: &[Fact]) -> Vec<Change> {
    let dishes: Vec<&str> = facts
        .iter()
        .filter_map(|fact| if let Fact::Dish { dish } = fact { Some(dish.as_str()) } else { None })
        .collect();
    let mut changes = Vec::new();
    for fact in facts {
        match fact {
            Fact::Dish { dish } => changes.push(Change::DropDish { dish: dish.clone() }),
            Fact::Serving { course } => {
                changes.push(Change::ServeLater { course: course.clone(), minutes: MOST_MINUTES });
            }
            Fact::Together { course } => {
                changes.push(Change::SpreadOut { course: course.clone(), minutes: MOST_MINUTES });
            }
            Fact::Following { course } => {
                changes.push(Change::PauseLonger { course: course.clone(), minutes: MOST_MINUTES });
            }
            Fact::Earliest { step } => {
                changes.push(Change::StartEarlier { step: step.clone(), minutes: MOST_MINUTES });
            }
            Fact::Latest { step } => changes.push(Change::EndLater { step: step.clone(), minutes: MOST_MINUTES }),
            Fact::Opening => {
                changes.push(Change::OpenEarlier { minutes: MOST_MINUTES });
                changes.push(Change::DayBefore { minutes: 2 * MOST_MINUTES });
            }
            Fact::Keeping { step } => changes.push(Change::KeepLonger { step: step.clone(), minutes: MOST_MINUTES }),
            Fact::Gap { from, to } => {
                changes.push(Change::WaitLonger { from: from.clone(), to: to.clone(), minutes: MOST_MINUTES });
            }
            Fact::Hands { .. } => {
                changes.push(Change::MoreHands { hands: MOST_COUNT });
                changes.extend(
                    dishes.iter().map(|dish| Change::Ahead { dish: (*dish).to_owned(), minutes: 2 * MOST_MINUTES }),
                );
                changes.push(Change::DayBefore { minutes: 2 * MOST_MINUTES });
                changes.push(Change::OpenEarlier { minutes: MOST_MINUTES });
            }
            Fact::Pool { pool } => changes.push(Change::MoreOf { pool: pool.clone(), amount: MOST_COUNT }),
            Fact::Burners { place } => changes.push(Change::MoreBurners { place: place.clone(), count: MOST_COUNT }),
            Fact::Room { place } => {
                if problem.places.iter().any(|other| other.id() == place && matches!(other, Place::Cavity(_))) {
                    changes.push(Change::MoreRacks { place: place.clone(), count: MOST_COUNT });
                }
                changes.push(Change::Second { place: place.clone() });
                changes.extend(
                    steps_in(problem, place, &dishes)
                        .map(|step| Change::SmallerPan { step: step.to_owned(), millimetres: MOST_MILLIMETRES }),
                );
            }
            Fact::Temperature { place } | Fact::Changeover { place } => {
                changes.push(Change::Second { place: place.clone() });
                changes.extend(
                    steps_in(problem, place, &dishes)
                        .map(|step| Change::AcceptDegrees { step: step.to_owned(), degrees: MOST_DEGREES }),
                );
            }
            Fact::Moisture { place } => {
                changes.push(Change::Second { place: place.clone() });
                changes.extend(steps_in(problem, place, &dishes).map(|step| Change::Cover { step: step.to_owned() }));
            }
            Fact::Weight { place } | Fact::Heat { place } => changes.push(Change::Second { place: place.clone() }),
            Fact::Shut { .. } => {}
        }
    }
    changes
}

/// The steps of these dishes that can be done in a place.
fn steps_in<'p>(problem: &'p Problem, place: &str, dishes: &[&str]) -> impl Iterator<Item = &'p str> {
    problem
        .steps
        .iter()
        .filter(|step| dishes.contains(&step.dish.as_str()))
        .filter(|step| step.modes.iter().any(|mode| mode.place.as_deref() == Some(place)))
        .map(|step| step.id.as_str())
}

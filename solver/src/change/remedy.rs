//! What would turn a "no" into a "yes", tried by the solver and not guessed.

use rangewright_models::plan::Plan;
use rangewright_models::problem::Problem;
use serde::{Deserialize, Serialize};

use super::candidates::candidates;
use super::{Change, changed};
use crate::probe::{Finding, Probe};
use crate::why::Explanation;
use crate::{Error, Limits};

/// Changes that make a menu possible, with a plan that shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Remedy {
    /// What to change; more than one only where none alone was enough that leaves the whole menu.
    pub changes: Vec<Change>,
    /// The number in each change (minutes, degrees, hands) is the least that works beside the others; false if a limit struck
    /// in between.
    pub least: bool,
    /// A plan of the changed problem that the checker accepts. It shows that the change is enough; it is not the best plan.
    pub plan: Plan,
}

/// Probes that find the least number of a change: 256 minutes are halved so often.
const HALVINGS: usize = 8;
/// Pairs of changes tried when none alone is enough.
const MOST_PAIRS: usize = 60;
/// Pairs that are offered.
const PAIRS_OFFERED: usize = 4;

/// Changes that each make an impossible problem possible, the smallest first ([`Change::size`]).
///
/// Only changes that touch the conflict are tried: no other could help. Each one offered was carried out and a plan of the
/// changed problem found; the numbers are the least that work. If no change alone is enough but for leaving out a dish, pairs
/// are tried that leave the whole menu, and if nothing helps, all changes at once, less what is not needed.
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
        found.push(shrink(problem, vec![(*change).clone()], plan.clone(), &mut probe)?);
    }
    if enough.iter().all(|(change, _)| drops(change)) {
        found.extend(pairs(problem, &largest, &mut probe)?);
    }
    if found.is_empty() {
        found.extend(several(problem, &largest, &mut probe)?);
    }
    found.sort_by_key(size);
    Ok(found)
}

fn drops(change: &Change) -> bool {
    matches!(change, Change::DropDish { .. })
}

fn size(remedy: &Remedy) -> i64 {
    remedy.changes.iter().map(Change::size).sum()
}

/// Pairs of changes that are enough and leave the whole menu, the smallest few.
fn pairs(problem: &Problem, largest: &[Change], probe: &mut Probe<'_>) -> Result<Vec<Remedy>, Error> {
    let kept: Vec<&Change> = largest.iter().filter(|change| !drops(change)).collect();
    let all = kept.iter().enumerate().flat_map(|(index, &a)| kept[index + 1..].iter().map(move |&b| [a, b]));
    let mut pairs: Vec<Vec<Change>> = all.map(|pair| pair.map(Clone::clone).to_vec()).collect();
    pairs.sort_by_key(|pair| pair.iter().map(Change::size).sum::<i64>());
    pairs.truncate(MOST_PAIRS);
    let mut enough = Vec::new();
    for (index, pair) in pairs.iter().enumerate() {
        probe.share(2 * (pairs.len() - index));
        if let Finding::Plan(plan) = probe.find(&changed(problem, pair))? {
            enough.push((pair, plan));
        }
    }
    let mut found = Vec::new();
    for (index, (pair, plan)) in enough.iter().enumerate() {
        probe.share(2 * HALVINGS * (enough.len() - index));
        found.push(shrink(problem, (*pair).clone(), plan.clone(), probe)?);
    }
    found.sort_by_key(size);
    found.truncate(PAIRS_OFFERED);
    Ok(found)
}

/// All changes at once, but for dishes left off the menu; then without each that is not needed, the largest first.
fn several(problem: &Problem, largest: &[Change], probe: &mut Probe<'_>) -> Result<Option<Remedy>, Error> {
    let mut changes: Vec<Change> = largest.iter().filter(|change| !drops(change)).cloned().collect();
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

/// The same changes, each with the least number that still works beside the others, by halving.
fn shrink(problem: &Problem, mut changes: Vec<Change>, mut plan: Plan, probe: &mut Probe<'_>) -> Result<Remedy, Error> {
    let mut least = true;
    for index in 0..changes.len() {
        let Some(mut enough) = number(&changes[index]) else { continue };
        let mut too_little = 0;
        while enough - too_little > 1 {
            let middle = (enough + too_little) / 2;
            let mut smaller = changes.clone();
            smaller[index] = with_number(&changes[index], middle);
            match probe.find(&changed(problem, &smaller))? {
                Finding::Plan(found) => {
                    enough = middle;
                    (changes, plan) = (smaller, found);
                }
                Finding::None => too_little = middle,
                Finding::Unknown => {
                    least = false;
                    too_little = middle;
                }
            }
        }
    }
    Ok(Remedy { changes, least, plan })
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

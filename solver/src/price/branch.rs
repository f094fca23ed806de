//! Where to split a node.

use std::collections::BTreeMap;

use super::domain::{Decision, Domain, Ways};
use super::separate::Share;
use crate::instance::{Instance, Time};

/// How many splits are tried at a node.
const TRIED: usize = 8;

/// Promising splits, each a pair of decisions of which one must hold: places first, then modes, then times.
///
/// Empty only if every step is decided: then the one plan left has been looked at.
pub(super) fn candidates(
    instance: &Instance<'_>,
    ways: &Ways,
    domain: &Domain,
    shares: &[Share],
) -> Vec<[Decision; 2]> {
    let mut by_step: BTreeMap<usize, Vec<Share>> = BTreeMap::new();
    for share in shares {
        by_step.entry(share.step).or_default().push(*share);
    }
    let mut scored: Vec<(f64, [Decision; 2])> = Vec::new();
    for (&step, shares) in &by_step {
        places(instance, step, shares, &mut scored);
    }
    let few = scored.len() < 3;
    if few {
        for (&step, shares) in &by_step {
            modes(instance, step, shares, &mut scored);
            times(step, shares, &mut scored);
        }
    }
    if scored.is_empty() {
        scored.extend(undecided(instance, ways, domain).map(|pair| (0.0, pair)));
    }
    scored.sort_by(|a, b| b.0.total_cmp(&a.0));
    scored.into_iter().take(TRIED).map(|(_, pair)| pair).collect()
}

fn places(instance: &Instance<'_>, step: usize, shares: &[Share], scored: &mut Vec<(f64, [Decision; 2])>) {
    let mut mass: BTreeMap<Option<usize>, f64> = BTreeMap::new();
    for share in shares {
        *mass.entry(instance.steps[step].modes[share.choice.mode].place).or_default() += share.share;
    }
    for (&place, &mass) in mass.iter().filter(|_| mass.len() > 1) {
        let is = |is| Decision::Place { step, place, is };
        scored.push((2.0 * mass.min(1.0 - mass), [is(true), is(false)]));
    }
}

fn modes(_: &Instance<'_>, step: usize, shares: &[Share], scored: &mut Vec<(f64, [Decision; 2])>) {
    let mut mass: BTreeMap<usize, f64> = BTreeMap::new();
    for share in shares {
        *mass.entry(share.choice.mode).or_default() += share.share;
    }
    for (&mode, &mass) in mass.iter().filter(|_| mass.len() > 1) {
        let is = |is| Decision::Mode { step, mode, is };
        scored.push((mass.min(1.0 - mass), [is(true), is(false)]));
    }
}

fn times(step: usize, shares: &[Share], scored: &mut Vec<(f64, [Decision; 2])>) {
    let starts: Vec<(Time, f64)> = shares.iter().map(|share| (share.choice.start, share.share)).collect();
    if let Some((score, minute)) = middle(&starts) {
        scored.push((score, [Decision::StartBy { step, minute }, Decision::StartAfter { step, minute }]));
    }
    let ends: Vec<(Time, f64)> = shares.iter().map(|share| (share.choice.end, share.share)).collect();
    if starts.iter().all(|start| start.0 == starts[0].0)
        && let Some((score, minute)) = middle(&ends)
    {
        scored.push((score, [Decision::EndBy { step, minute }, Decision::EndAfter { step, minute }]));
    }
}

/// A minute between the first and the last, near the centre of mass, and how far the mass is spread about it.
fn middle(minutes: &[(Time, f64)]) -> Option<(f64, Time)> {
    let first = minutes.iter().map(|minute| minute.0).min()?;
    let last = minutes.iter().map(|minute| minute.0).max()?;
    if first == last {
        return None;
    }
    let mass: f64 = minutes.iter().map(|minute| minute.1).sum();
    let mean = minutes.iter().map(|&(minute, share)| f64::from(minute) * share).sum::<f64>() / mass;
    let split = (mean.floor() as Time).clamp(first, last - 1);
    let spread: f64 = minutes.iter().map(|&(minute, share)| share * (f64::from(minute) - mean).abs()).sum();
    Some((1.0 - 1.0 / (1.0 + spread / 8.0), split))
}

/// Any split of what is still open, for plans that no row rules out although they are not valid.
fn undecided<'a>(
    instance: &'a Instance<'_>,
    ways: &'a Ways,
    domain: &'a Domain,
) -> impl Iterator<Item = [Decision; 2]> + 'a {
    (0..instance.steps.len()).filter_map(move |step| {
        let mut open = ways.of_step(step).filter(|&way| domain.open[way]).map(|way| ways.of[way].1);
        let (first, second) = (open.next(), open.next());
        if let (Some(mode), Some(_)) = (first, second) {
            let is = |is| Decision::Mode { step, mode, is };
            return Some([is(true), is(false)]);
        }
        let (starts, ends) = (domain.start[step], domain.end[step]);
        if starts.lo < starts.hi {
            let minute = starts.lo + (starts.hi - starts.lo) / 2;
            return Some([Decision::StartBy { step, minute }, Decision::StartAfter { step, minute }]);
        }
        let minute = ends.lo + (ends.hi - ends.lo) / 2;
        (ends.lo < ends.hi).then_some([Decision::EndBy { step, minute }, Decision::EndAfter { step, minute }])
    })
}

//! Which units to take out and plan anew together.

use super::kitchen::Kitchen;
use super::random::Random;
use crate::instance::Time;

/// The ways to choose them.
pub(super) const WAYS: usize = 5;

/// Chooses a few units that have to do with each other.
pub(super) fn choose(kitchen: &Kitchen<'_>, way: usize, most: usize, random: &mut Random) -> Vec<usize> {
    let count = kitchen.units.units.len();
    let most = most.min(count);
    let seed = if random.one_in(2) { random.below(count) } else { dear(kitchen, random) };
    let mut others: Vec<(i64, usize)> = match way {
        0 => (0..count).map(|unit| (random.below(1 << 20) as i64, unit)).collect(),
        1 => {
            let steps = &kitchen.units.units[seed].steps;
            let step = steps[random.below(steps.len())];
            let at = kitchen.ledger.choices()[step].map_or(0, |choice| choice.start);
            (0..count).map(|unit| (i64::from(distance(kitchen, unit, at)), unit)).collect()
        }
        2 => neighbours_in_place(kitchen, seed, random),
        3 => {
            let courses = courses(kitchen, seed);
            let kin = |unit: usize| courses.iter().any(|course| self::courses(kitchen, unit).contains(course));
            (0..count).map(|unit| (i64::from(!kin(unit)) * (1 << 20) + random.below(1 << 20) as i64, unit)).collect()
        }
        _ => (0..count).map(|unit| (-kitchen.cost_of(unit) / 16 * (1 + random.below(16) as i64), unit)).collect(),
    };
    for (rank, unit) in &mut others {
        if *unit == seed {
            *rank = i64::MIN;
        }
    }
    others.sort_unstable();
    others.into_iter().take(most).map(|(_, unit)| unit).collect()
}

/// A unit by chance, the dear ones more often.
fn dear(kitchen: &Kitchen<'_>, random: &mut Random) -> usize {
    let costs: Vec<i64> = (0..kitchen.units.units.len()).map(|unit| kitchen.cost_of(unit) + 1).collect();
    let total: i64 = costs.iter().sum();
    let mut left = (random.next() % total.max(1) as u64) as i64;
    costs
        .iter()
        .position(|&cost| {
            left -= cost;
            left < 0
        })
        .unwrap_or(0)
}

/// How far a unit's busy steps are from a minute.
fn distance(kitchen: &Kitchen<'_>, unit: usize, at: Time) -> Time {
    let steps = kitchen.units.units[unit].steps.iter();
    let choices = steps.filter_map(|&step| {
        let choice = kitchen.ledger.choices()[step]?;
        let mode = kitchen.ledger.mode(step, choice);
        let busy = mode.place.is_some() || !mode.needs.is_empty();
        busy.then_some((at - choice.end).max(choice.start - at).max(0))
    });
    choices.min().unwrap_or(Time::MAX)
}

/// Units in one of the places of a unit, the nearest in time first.
fn neighbours_in_place(kitchen: &Kitchen<'_>, seed: usize, random: &mut Random) -> Vec<(i64, usize)> {
    let place_of = |step: usize| {
        let choice = kitchen.ledger.choices()[step]?;
        kitchen.ledger.mode(step, choice).place.map(|place| (place, choice))
    };
    let stays: Vec<_> = kitchen.units.units[seed].steps.iter().filter_map(|&step| place_of(step)).collect();
    let count = kitchen.units.units.len();
    let Some(&(place, at)) = stays.get(random.below(stays.len())) else {
        return (0..count).map(|unit| (random.below(1 << 20) as i64, unit)).collect();
    };
    (0..count)
        .map(|unit| {
            let near =
                kitchen.units.units[unit].steps.iter().filter_map(|&step| place_of(step)).map(|(other, choice)| {
                    let apart = (at.start - choice.end).max(choice.start - at.end).max(0);
                    i64::from(apart) * 4 + if other == place { 0 } else { 1 << 16 }
                });
            (near.min().unwrap_or(1 << 30) + random.below(60) as i64, unit)
        })
        .collect()
}

fn courses(kitchen: &Kitchen<'_>, unit: usize) -> Vec<usize> {
    let component = kitchen.units.units[unit].component;
    let steps = kitchen.units.components[component].iter();
    steps.filter_map(|&step| kitchen.instance.steps[step].sink.map(|sink| sink.0)).collect()
}

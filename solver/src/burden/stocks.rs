//! What there is only so much of at a time, and how many minutes of it the ways of each step need.

use super::Need;
use crate::instance::{Instance, Mode, PlaceTable, Time, Work};

/// Hands are the first resource.
const HANDS: usize = 0;

/// How much there is of each stock, and for each step and each of its ways the minutes it needs of each.
pub(super) fn needs(instance: &Instance<'_>) -> (Vec<i64>, Vec<Vec<Vec<Need>>>) {
    let mut stocks: Vec<i64> = instance.resources.iter().map(|resource| resource.capacity.most()).collect();
    let ways = |modes: &[Mode]| modes.iter().map(of_resources).collect();
    let mut needs: Vec<Vec<Vec<Need>>> = instance.steps.iter().map(|step| ways(&step.modes)).collect();
    for table in &instance.places {
        let alone = alone(instance, table);
        if alone.len() > 1 {
            for occupant in alone.iter().map(|&index| &table.occupants[index]) {
                let minutes = instance.steps[occupant.step].modes[occupant.mode].min;
                needs[occupant.step][occupant.mode].push((stocks.len(), i64::from(minutes)));
            }
            stocks.push(1);
        }
    }
    for ways in &mut needs {
        for way in ways.iter_mut() {
            way.sort_unstable();
            way.retain(|&(_, need)| need > 0);
        }
        ways.sort_unstable();
        ways.dedup();
    }
    (stocks, needs)
}

/// The minutes that a mode needs of each resource, between its start and its end.
fn of_resources(mode: &Mode) -> Vec<Need> {
    let minutes = i64::from(mode.min);
    let mut needs: Vec<Need> = mode.uses.iter().map(|need| (need.resource, need.amount * minutes)).collect();
    let hands = mode.work.iter().map(|&work| match work {
        Work::Whole { hands } => hands * minutes,
        // A touch after the end is none of the burdens before it.
        Work::FromStart { offset, minutes } if offset + minutes > mode.min => 0,
        Work::FromStart { minutes, .. } | Work::BeforeEnd { minutes } => i64::from(minutes),
    });
    needs.push((HANDS, hands.sum()));
    needs
}

/// Occupants of a place of which no two may be there together, the longest first. Ways of one step are never there together.
fn alone(instance: &Instance<'_>, table: &PlaceTable) -> Vec<usize> {
    let least = |index: usize| -> Time {
        let occupant = &table.occupants[index];
        instance.steps[occupant.step].modes[occupant.mode].min
    };
    let mut order: Vec<usize> = (0..table.occupants.len()).collect();
    order.sort_by_key(|&index| std::cmp::Reverse(least(index)));
    let mut alone: Vec<usize> = Vec::new();
    for index in order {
        let step = table.occupants[index].step;
        let apart = |&other: &usize| table.occupants[other].step == step || table.separation(index, other).is_some();
        if alone.iter().all(apart) {
            alone.push(index);
        }
    }
    alone
}

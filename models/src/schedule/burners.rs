//! Which pan stands on which burner.

use std::collections::BTreeMap;

use super::data::{HobDay, HobSpot};
use super::running::Run;
use crate::problem::{Hob, Minute};

/// The heat that suits, as far as the dial has it: nobody can turn a dial of 1 to 9 to 12.
pub(super) fn on_the_dial(level: Option<[i64; 2]>, [lowest, highest]: [i64; 2]) -> [i64; 2] {
    level.map_or([lowest, highest], |[from, to]| [from.max(lowest), to.min(highest)])
}

/// Numbers the burners: a dish keeps its burner where it can, and otherwise the lowest free number is taken.
pub(super) fn day(hob: &Hob, here: &[Run<'_>]) -> HobDay {
    // Until when each burner is taken, and by which dish.
    let mut taken: BTreeMap<usize, (Minute, &str)> = BTreeMap::new();
    let mut spots = Vec::new();
    for run in here {
        let free = |burner: usize| taken.get(&burner).is_none_or(|&(until, _)| until <= run.start);
        let own = taken.iter().find(|(_, taken)| taken.1 == run.step.dish && taken.0 <= run.start);
        let burner = own.map(|(&burner, _)| burner).or_else(|| (1..).find(|&burner| free(burner))).unwrap_or(1);
        taken.insert(burner, (run.end, &run.step.dish));
        spots.push(HobSpot {
            step: run.step.id.clone(),
            from: run.start,
            until: run.end,
            burner,
            level: on_the_dial(run.mode.level, hob.scale),
        });
    }
    HobDay { place: hob.id.clone(), spots }
}

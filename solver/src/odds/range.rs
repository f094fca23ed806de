//! How short and how long each step may turn out.

use std::collections::BTreeMap;

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use serde::{Deserialize, Serialize};

/// The minutes one step may really take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Range {
    /// The shortest.
    pub shortest: Minute,
    /// The likeliest.
    pub likely: Minute,
    /// The longest.
    pub longest: Minute,
}

impl Range {
    /// No doubt at all.
    pub fn exactly(minutes: Minute) -> Self {
        Range { shortest: minutes, likely: minutes, longest: minutes }
    }

    /// A range that holds in nine evenings of ten, as one that holds always: both sides of a triangle with a tenth of its
    /// area beyond the range are longer by `1 / (1 - sqrt(1/10))`.
    pub fn with_tails(self) -> Self {
        let [early, late] = [self.likely - self.shortest, self.longest - self.likely];
        let longer = |minutes: Minute| minutes + minutes * 462 / 1_000;
        Range { shortest: self.likely - longer(early), longest: self.likely + longer(late), ..self }.ordered()
    }

    /// The three in their order, none below zero.
    pub(super) fn ordered(self) -> Self {
        let likely = self.likely.max(0);
        Range { shortest: self.shortest.clamp(0, likely), likely, longest: self.longest.max(likely) }
    }
}

/// The ranges of the steps by their ids. A step without one takes exactly its least minutes.
pub type Ranges = BTreeMap<String, Range>;

/// The ranges that a plan's modes state by their `spread`; where they state none, hands-on work and cooking may turn out
/// shorter by half of `doubt` percent and longer by `doubt` percent (our assumption; 0 takes them at their word).
///
/// A rest, a hold or anything else that is elastic and needs no hands takes as long as it is given, so it is in no doubt.
pub fn ranges(problem: &Problem, plan: &Plan, doubt: u32) -> Ranges {
    let doubt = Minute::from(doubt);
    let of = |step: &rangewright_models::problem::Step| {
        let mode = step.modes.get(plan.steps.get(&step.id)?.mode)?;
        let [early, late] = match mode.spread {
            Some(spread) => spread,
            None if mode.min == mode.max || mode.hands > 0 => [mode.min * doubt / 200, mode.min * doubt / 100],
            None => return None,
        };
        let range = Range { shortest: mode.min - early, likely: mode.likely(), longest: mode.min + late }.ordered();
        (range.shortest < range.longest).then(|| (step.id.clone(), range))
    };
    problem.steps.iter().filter_map(of).collect()
}

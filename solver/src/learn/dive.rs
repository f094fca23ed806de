//! Dives: most dishes stay as they are in the best plan, and the rest are searched to the end or nearly.

use super::literal::Lit;
use super::model::Model;
use crate::assignment::Assignment;
use crate::instance::{Instance, Time};
use crate::local::{Random, Units};

/// Conflicts for one dive.
pub(super) const CONFLICTS: u64 = 200;
/// The fewest dishes that are let go.
const FEWEST: usize = 2;

/// Which dishes are let go, and how many.
pub(super) struct Dives {
    random: Random,
    /// The steps of each dish.
    dishes: Vec<Vec<usize>>,
    free: usize,
    is_due: bool,
}

impl Dives {
    pub(super) fn new(instance: &Instance<'_>) -> Self {
        Dives { random: Random::new(0xd1_7e), dishes: Units::new(instance).components, free: 3, is_due: false }
    }

    /// Whether the next search is to be a dive: every second one is, where letting go of some dishes is any different from
    /// letting go of all.
    pub(super) fn is_due(&mut self) -> bool {
        self.is_due = !self.is_due && self.free < self.dishes.len();
        self.is_due
    }

    /// Facts that hold all dishes but some where they are in a plan.
    pub(super) fn hold(&mut self, model: &Model, plan: &Assignment) -> Vec<Lit> {
        let mut order: Vec<usize> = (0..self.dishes.len()).collect();
        self.random.shuffle(&mut order);
        if !self.random.one_in(3) {
            // Those that are busy about the same time have most to trade.
            let steps = plan.steps.len();
            let minute = plan.steps[self.random.below(steps)].start;
            let apart = |dish: usize| -> Time {
                let choices = self.dishes[dish].iter().map(|&step| plan.steps[step]);
                let gaps = choices.map(|choice| (choice.start - minute).max(minute - choice.end).max(0));
                gaps.min().unwrap_or(Time::MAX)
            };
            order.sort_by_key(|&dish| apart(dish));
        }
        let mut facts = Vec::new();
        for &step in order[self.free.min(order.len())..].iter().flat_map(|&dish| &self.dishes[dish]) {
            facts.extend(model.hold(step, plan.steps[step]));
        }
        facts
    }

    /// Takes in whether the last dive was searched to the end: then more dishes can be let go, and fewer if not.
    pub(super) fn learn(&mut self, is_exhausted: bool) {
        self.free = if is_exhausted { self.free + 1 } else { (self.free - 1).max(FEWEST) };
    }
}

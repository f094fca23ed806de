//! Timetables: one component's complete choice of modes and minutes, the cheapest under a tariff.
//!
//! A component is a dish, or several dishes tied by links. Its links form a tree (with few exceptions), so that a dynamic
//! program over the tree finds the cheapest timetable exactly: costs over the minutes of each step's start and end, passed
//! on along links and through elastic steps as sliding minima of costs with one bend, in time linear in the minutes.
//! Where links close a ring, the ring's earlier end is fixed minute by minute, best bound first.
//!
//! Whatever concerns only one step or two linked ones is part of a timetable: windows, shifts, first heats, stays,
//! changeovers along a link. Whatever several steps compete for is not, not even among the steps of one component (two
//! branches of a dish may need the same hands); a caller prices it or checks it.

mod program;
mod ring;
mod slide;
mod tariff;
mod tree;

#[cfg(test)]
mod tests;

use crate::assignment::Choice;
use crate::instance::{Instance, Time, Windows};

pub(crate) use program::Scratch;
pub(crate) use tariff::{Tariff, Toll};
pub(crate) use tree::Component;

/// Stands for what may not be. Sums of a few of them still fit.
pub(crate) const FORBIDDEN: i64 = 1 << 55;
/// Costs from here on count as forbidden, so that prices may be added to a forbidden minute.
const UNREACHED: i64 = FORBIDDEN / 2;

/// A step done in one of its modes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Slot {
    pub(crate) step: usize,
    pub(crate) mode: usize,
}

/// The components of an instance and what they are made of.
pub(crate) struct Timetables {
    pub(crate) components: Vec<Component>,
    pub(crate) slots: Vec<Slot>,
    /// Where the slots of each step begin; one more at the end.
    pub(crate) first_slot: Vec<usize>,
    pub(crate) windows: Windows,
    /// All costs are multiplied by this.
    pub(crate) scale: i64,
}

/// The least cost of any timetable through each start and each end of each slot of a component.
///
/// The indices are those of the slot's [`Toll`]. Where a component has rings they are lower bounds.
#[derive(Clone, Debug, Default)]
pub(crate) struct Through {
    /// `(slot, over its starts, over its ends)`.
    pub(crate) slots: Vec<(usize, Vec<i64>, Vec<i64>)>,
}

impl Timetables {
    /// Timetables within these windows. None if costs are too large to be scaled or links close too many rings.
    pub(crate) fn new(instance: &Instance<'_>, windows: &Windows, scale: i64) -> Option<Self> {
        let components = tree::components(instance);
        let tangled = components.iter().any(|component| {
            let crowded = component.nodes.iter().any(|node| node.at_start.len() + node.at_end.len() > 12);
            crowded || component.rings.len() > 3
        });
        if tangled || !costs_fit(instance, scale) {
            return None;
        }
        let (slots, first_slot) = tree::slots(instance);
        Some(Timetables { components, slots, first_slot, windows: windows.clone(), scale })
    }

    /// The tariff of the problem itself, for callers to add to.
    pub(crate) fn lawful(&self, instance: &Instance<'_>) -> Tariff {
        Tariff::lawful(instance, self)
    }

    /// The slots of a step.
    pub(crate) fn slots_of(&self, step: usize) -> std::ops::Range<usize> {
        self.first_slot[step]..self.first_slot[step + 1]
    }

    /// The cheapest timetable of a component if the courses are served at these minutes: its waiting and its tolls,
    /// scaled, and the choice for each of its steps. None if there is none.
    pub(crate) fn cheapest(
        &self,
        instance: &Instance<'_>,
        component: usize,
        served: &[Time],
        tariff: &Tariff,
        scratch: &mut Scratch,
    ) -> Option<(i64, Vec<(usize, Choice)>)> {
        if self.components[component].rings.is_empty() {
            program::sweep(self, instance, component, served, tariff, scratch);
            program::trace(self, instance, component, tariff, scratch)
        } else {
            ring::cheapest(self, instance, component, served, tariff, scratch)
        }
    }

    /// The least cost through each start and end, after a call of [`Timetables::cheapest`] or for itself.
    pub(crate) fn through(
        &self,
        instance: &Instance<'_>,
        component: usize,
        served: &[Time],
        tariff: &Tariff,
        scratch: &mut Scratch,
    ) -> Through {
        program::sweep(self, instance, component, served, tariff, scratch);
        program::through(self, instance, component, tariff, scratch)
    }
}

/// Whether the dearest timetable imaginable, scaled, stays far below what is forbidden.
fn costs_fit(instance: &Instance<'_>, scale: i64) -> bool {
    let span = i128::from(instance.horizon - instance.opening) + 1;
    let dearest = |rate: crate::instance::Rate| span * i128::from(rate.rate.max(rate.rate_after));
    let links = instance.links.iter().map(|link| dearest(link.wait)).sum::<i128>();
    let steps = instance.steps.iter().map(|step| {
        let modes = step.modes.iter().map(|mode| dearest(mode.wait) + i128::from(mode.cost));
        modes.max().unwrap_or(0) + step.sink.map_or(0, |sink| dearest(sink.1))
    });
    (links + steps.sum::<i128>()) * i128::from(scale) < 1 << 51
}

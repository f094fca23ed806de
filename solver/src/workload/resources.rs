//! What there is only so much of at a time, and how many minutes of it each step needs whatever its mode.

use crate::instance::{During, Instance, Mode, Need, PlaceTable, Step, Time};

/// The work on one resource.
pub(super) struct Demand {
    /// How much there is of it at most, above 0.
    pub(super) capacity: i64,
    /// Steps, and the least of its minutes (times how much of it is taken) that any mode of theirs needs, above 0.
    pub(super) minutes: Vec<(usize, i64)>,
}

/// The work on each resource and in each place.
pub(super) fn demands(instance: &Instance<'_>) -> Vec<Demand> {
    let resources = instance
        .resources
        .iter()
        .enumerate()
        .map(|(resource, source)| demand(instance, source.capacity.most(), |mode| of_resource(mode, resource)));
    let places = instance.places.iter().enumerate().map(|(place, table)| {
        let alone = alone(instance, table);
        let counts =
            |mode: &Mode| mode.place == Some(place) && mode.occupant.is_some_and(|index| alone.contains(&index));
        demand(instance, 1, |mode| if counts(mode) { i64::from(mode.min) } else { 0 })
    });
    resources.chain(places).filter(|demand| demand.capacity > 0 && !demand.minutes.is_empty()).collect()
}

/// The steps that need minutes in each of their modes.
fn demand(instance: &Instance<'_>, capacity: i64, minutes: impl Fn(&Mode) -> i64) -> Demand {
    let least = |step: &Step| step.modes.iter().map(&minutes).min().unwrap_or(0);
    let least = instance.steps.iter().map(least).enumerate().filter(|&(_, least)| least > 0);
    Demand { capacity, minutes: least.collect() }
}

/// The minutes that a mode needs of a resource, between its start and its end.
fn of_resource(mode: &Mode, resource: usize) -> i64 {
    let minutes = |need: Need| match need.during {
        During::Whole => mode.min,
        // A touch after the end is no work before it.
        During::FromStart { offset, minutes } if offset + minutes > mode.min => 0,
        During::FromStart { minutes, .. } | During::BeforeEnd { minutes } => minutes,
    };
    mode.needs_of(resource).map(|need| need.amount * i64::from(minutes(need))).sum()
}

/// Occupants of a place of which no two may be there together, the longest first. Modes of one step are never there together.
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

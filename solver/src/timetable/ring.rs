//! Rings of links: the tree leaves one link of each ring out; fixing the end of its earlier step puts it back.

use crate::assignment::Choice;
use crate::instance::{Instance, Time};

use super::program::{self, Scratch};
use super::tree::least_gap;
use super::{FORBIDDEN, Tariff, Timetables, UNREACHED};

type Found = Option<(i64, Vec<(usize, Choice)>)>;

/// The cheapest timetable of a component with rings. Ends are tried in the order of their bounds, which leave out the
/// links not yet put back, until no bound is below the best timetable found.
pub(super) fn cheapest(
    timetables: &Timetables,
    instance: &Instance<'_>,
    component: usize,
    served: &[Time],
    tariff: &Tariff,
    scratch: &mut Scratch,
) -> Found {
    let mut best = None;
    close(timetables, instance, component, served, tariff, scratch, 0, &mut best);
    best
}

#[allow(clippy::too_many_arguments)]
fn close(
    timetables: &Timetables,
    instance: &Instance<'_>,
    component: usize,
    served: &[Time],
    tariff: &Tariff,
    scratch: &mut Scratch,
    closed: usize,
    best: &mut Found,
) {
    let beaten = |cost: i64, best: &Found| best.as_ref().is_some_and(|found| cost >= found.0);
    program::sweep(timetables, instance, component, served, tariff, scratch);
    let Some((cost, choices)) = program::trace(timetables, instance, component, tariff, scratch) else { return };
    if beaten(cost, best) {
        return;
    }
    let rings = &timetables.components[component].rings[closed..];
    let Some(&ring) = rings.first() else {
        *best = Some((cost, choices));
        return;
    };
    let link = &instance.links[ring];
    let through = program::through(timetables, instance, component, tariff, scratch);
    let mut ends: Vec<(i64, usize, usize)> = Vec::new();
    for (slot, _, costs) in &through.slots {
        if timetables.slots[*slot].step == link.from {
            ends.extend(costs.iter().enumerate().map(|(index, &cost)| (cost, *slot, index)));
        }
    }
    ends.retain(|end| end.0 < UNREACHED);
    ends.sort_unstable();
    for (bound, slot, index) in ends {
        if beaten(bound, best) {
            break;
        }
        let mut fixed = tariff.clone();
        for other in timetables.slots_of(link.from) {
            let toll = &mut fixed.tolls[other];
            let kept = toll.end[index];
            toll.end.fill(FORBIDDEN);
            if other == slot {
                toll.end[index] = kept;
            }
        }
        let end = tariff.tolls[slot].end_lo + index as Time;
        for other in timetables.slots_of(link.to) {
            let least = least_gap(instance, ring, timetables.slots[slot].mode, timetables.slots[other].mode);
            let toll = &mut fixed.tolls[other];
            for (index, cost) in toll.start.iter_mut().enumerate() {
                let gap = toll.start_lo + index as Time - end;
                let allowed = least.is_some_and(|least| (least..=link.max).contains(&gap));
                *cost += if allowed { timetables.scale * link.wait.cost(gap - link.min) } else { FORBIDDEN };
            }
        }
        close(timetables, instance, component, served, &fixed, scratch, closed + 1, best);
    }
}

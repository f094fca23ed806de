//! How much is in doubt at each event of a plan.

use crate::odds::Ranges;
use crate::order::Order;

/// No step is given more room than this (our assumption).
const MOST_ROOM: f64 = 30.0;

/// How many minutes each event may come late, as doubts add up along the plan: the root of the sum of their squares, less
/// the room there is already.
pub(super) fn doubts(order: &Order<'_>, ranges: &Ranges) -> Vec<f64> {
    let mut doubts = vec![0.0_f64; order.planned.len()];
    for &event in &order.sequence {
        let mut doubt = 0.0_f64;
        for arc in order.arcs.iter().filter(|arc| arc.to == event) {
            let room = order.planned[event] - order.planned[arc.from] - arc.least;
            doubt = doubt.max(doubts[arc.from] - room as f64);
        }
        let own = order.step_of(event).filter(|_| event % 2 == 1).map_or(0.0, |step| {
            let run = &order.runs[step];
            ranges.get(&run.step.id).map_or(0.0, |range| (range.longest - run.mode.min).max(0) as f64)
        });
        doubts[event] = (doubt * doubt + own * own).sqrt().min(MOST_ROOM);
    }
    doubts
}

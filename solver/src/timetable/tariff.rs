//! What it costs, or that it is forbidden, to start and to end at a minute.

use crate::instance::{Instance, Span, Time, Work};

use super::{FORBIDDEN, Timetables};

/// Extra costs of one way of doing a step, over its windows.
#[derive(Clone, Debug)]
pub(crate) struct Toll {
    pub(crate) start_lo: Time,
    /// Cost of starting at `start_lo + index`.
    pub(crate) start: Vec<i64>,
    pub(crate) end_lo: Time,
    /// Cost of ending at `end_lo + index`.
    pub(crate) end: Vec<i64>,
    /// Minutes in which it may not be running, sorted; only of ways that can be stretched.
    pub(super) barriers: Vec<Time>,
    min: Time,
    elastic: bool,
}

/// Extra costs for all slots, scaled as the timetables are.
///
/// A price for each minute in which a slot runs enters as a prefix sum: what is saved at the start is paid at the end.
#[derive(Clone, Debug)]
pub(crate) struct Tariff {
    pub(crate) tolls: Vec<Toll>,
}

impl Toll {
    fn new(starts: Span, ends: Span, min: Time, max: Time) -> Self {
        let minutes = |span: Span| (span.hi - span.lo + 1).max(0) as usize;
        Toll {
            start_lo: starts.lo,
            start: vec![0; minutes(starts)],
            end_lo: ends.lo,
            end: vec![0; minutes(ends)],
            barriers: Vec::new(),
            min,
            elastic: min < max,
        }
    }

    /// Forbids to start in `[from, to)`.
    pub(crate) fn forbid_starts(&mut self, from: Time, to: Time) {
        forbid(&mut self.start, self.start_lo, from, to);
    }

    /// Forbids to end in `[from, to)`.
    pub(crate) fn forbid_ends(&mut self, from: Time, to: Time) {
        forbid(&mut self.end, self.end_lo, from, to);
    }

    /// Forbids to run in any minute of `[from, to)`.
    pub(crate) fn block(&mut self, from: Time, to: Time) {
        if from >= to {
            return;
        }
        if self.elastic {
            self.forbid_starts(from, to);
            self.forbid_ends(from + 1, to.saturating_add(1));
            let place = self.barriers.partition_point(|&barrier| barrier < from);
            self.barriers.insert(place, from);
        } else {
            self.forbid_starts(from.saturating_sub(self.min - 1), to);
        }
    }

    /// Lays a price on every minute: `prefix(t)` is the sum of the prices of all minutes before `t`.
    pub(crate) fn charge(&mut self, prefix: impl Fn(Time) -> i64) {
        for (index, cost) in self.start.iter_mut().enumerate() {
            *cost -= prefix(self.start_lo + index as Time);
        }
        for (index, cost) in self.end.iter_mut().enumerate() {
            *cost += prefix(self.end_lo + index as Time);
        }
    }
}

fn forbid(costs: &mut [i64], lo: Time, from: Time, to: Time) {
    let index = |minute: Time| (i64::from(minute) - i64::from(lo)).clamp(0, costs.len() as i64) as usize;
    let (first, last) = (index(from), index(to));
    if first < last {
        costs[first..last].fill(FORBIDDEN);
    }
}

impl Tariff {
    /// What the problem itself says of each step alone: fixed times, first heats, shifts, and the costs of modes.
    pub(super) fn lawful(instance: &Instance<'_>, timetables: &Timetables) -> Self {
        let tolls = timetables.slots.iter().map(|slot| {
            let step = &instance.steps[slot.step];
            let mode = &step.modes[slot.mode];
            let (starts, ends) = (timetables.windows.start[slot.step], timetables.windows.end[slot.step]);
            let mut toll = Toll::new(starts, ends, mode.min, mode.max);
            toll.start.fill(timetables.scale * mode.cost);
            toll.forbid_starts(Time::MIN, step.earliest.max(mode.ready));
            toll.forbid_ends(step.latest + 1, Time::MAX);
            let hands = &instance.resources[0].capacity;
            for &work in &mode.work {
                match work {
                    Work::Whole { hands: need } => {
                        for (index, piece) in hands.pieces().iter().enumerate() {
                            if piece.1 < need {
                                let until = hands.pieces().get(index + 1).map_or(Time::MAX / 2, |next| next.0);
                                toll.block(piece.0.max(Time::MIN / 2), until);
                            }
                        }
                    }
                    Work::FromStart { offset, minutes } => {
                        for index in 0..toll.start.len() {
                            let from = toll.start_lo + index as Time + offset;
                            if hands.least(from, from + minutes) < 1 {
                                toll.start[index] = FORBIDDEN;
                            }
                        }
                    }
                    Work::BeforeEnd { minutes } => {
                        for index in 0..toll.end.len() {
                            let until = toll.end_lo + index as Time;
                            if hands.least(until - minutes, until) < 1 {
                                toll.end[index] = FORBIDDEN;
                            }
                        }
                    }
                }
            }
            toll
        });
        Tariff { tolls: tolls.collect() }
    }
}

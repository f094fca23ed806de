//! Sliding minima: the cheapest source for each target within a window that moves with it.

use std::collections::VecDeque;

use crate::instance::{Rate, Time};

use super::FORBIDDEN;

/// Costs over the minutes `lo..`.
#[derive(Clone, Copy)]
pub(super) struct Strip<'a> {
    pub(super) lo: Time,
    pub(super) cost: &'a [i64],
}

/// Targets lie `least..=most` minutes after their source and pay `rate` for each minute beyond `free`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Gap {
    pub(super) least: Time,
    pub(super) most: Time,
    /// Minutes that cost nothing; at most `least`.
    pub(super) free: Time,
    pub(super) rate: Rate,
}

/// Working memory of the kernels.
#[derive(Default)]
pub(super) struct Slider {
    deque: VecDeque<(Time, i64)>,
    source: Vec<i64>,
    target: Vec<i64>,
    barriers: Vec<Time>,
    /// For callers.
    pub(super) spare: Vec<i64>,
}

impl Slider {
    /// For each target minute from `lo` the least cost of a source before it. No `[source, target)` holds a barrier.
    pub(super) fn forward(
        &mut self,
        source: Strip<'_>,
        gap: Gap,
        scale: i64,
        barriers: &[Time],
        lo: Time,
        target: &mut [i64],
    ) {
        target.fill(FORBIDDEN);
        let Gap { least, most, free, rate } = gap;
        if source.cost.is_empty() || target.is_empty() || most < least {
            return;
        }
        if least == most {
            let toll = scale * rate.cost(least - free);
            let shift = lo - least - source.lo;
            for (index, value) in target.iter_mut().enumerate() {
                let from = index as Time + shift;
                if from >= 0 && (from as usize) < source.cost.len() {
                    *value = (source.cost[from as usize] + toll).min(FORBIDDEN);
                }
            }
            if !barriers.is_empty() {
                let mut next = 0;
                for (index, value) in target.iter_mut().enumerate() {
                    let minute = lo + index as Time;
                    while next < barriers.len() && barriers[next] < minute {
                        next += 1;
                    }
                    if next > 0 && minute - least <= barriers[next - 1] {
                        *value = FORBIDDEN;
                    }
                }
            }
            return;
        }
        // The farthest that any target lies from any source.
        let reach = lo + target.len() as Time - source.lo;
        let most = most.min(reach);
        let bend = rate.soft.min(reach).saturating_add(free);
        if rate.soft == Time::MAX || rate.rate == rate.rate_after || bend >= most {
            self.piece(
                source,
                least,
                most,
                (scale * rate.rate, -scale * rate.rate * i64::from(free)),
                barriers,
                lo,
                target,
            );
            return;
        }
        if bend >= least {
            self.piece(
                source,
                least,
                bend,
                (scale * rate.rate, -scale * rate.rate * i64::from(free)),
                barriers,
                lo,
                target,
            );
        }
        let slope = scale * rate.rate_after;
        let offset = -slope * i64::from(free) - scale * (rate.rate_after - rate.rate) * i64::from(rate.soft);
        self.piece(source, least.max(bend), most, (slope, offset), barriers, lo, target);
    }

    /// For each source minute from `lo` the least cost of a target after it.
    pub(super) fn backward(
        &mut self,
        target: Strip<'_>,
        gap: Gap,
        scale: i64,
        barriers: &[Time],
        lo: Time,
        source: &mut [i64],
    ) {
        // Time is turned round; a barrier at `b` then lies at `-b - 1`.
        let mut turned = std::mem::take(&mut self.source);
        turned.clear();
        turned.extend(target.cost.iter().rev());
        let mut answer = std::mem::take(&mut self.target);
        answer.clear();
        answer.resize(source.len(), FORBIDDEN);
        let mut mirrored = std::mem::take(&mut self.barriers);
        mirrored.clear();
        mirrored.extend(barriers.iter().rev().map(|&barrier| -barrier - 1));
        let strip = Strip { lo: -(target.lo + target.cost.len() as Time - 1), cost: &turned };
        self.forward(strip, gap, scale, &mirrored, -(lo + source.len() as Time - 1), &mut answer);
        for (value, &turned) in source.iter_mut().zip(answer.iter().rev()) {
            *value = turned;
        }
        self.source = turned;
        self.target = answer;
        self.barriers = mirrored;
    }

    /// Lowers each target to the best source `least..=most` before it at `slope * (target - source) + offset`.
    fn piece(
        &mut self,
        source: Strip<'_>,
        least: Time,
        most: Time,
        (slope, offset): (i64, i64),
        barriers: &[Time],
        lo: Time,
        target: &mut [i64],
    ) {
        let end = source.lo + source.cost.len() as Time;
        let deque = &mut self.deque;
        deque.clear();
        let mut arriving = source.lo;
        let mut barrier = 0;
        let mut barred = Time::MIN;
        for (index, value) in target.iter_mut().enumerate() {
            let minute = lo + index as Time;
            while arriving <= minute - least && arriving < end {
                let cost = source.cost[(arriving - source.lo) as usize];
                if cost < FORBIDDEN {
                    let key = cost - slope * i64::from(arriving);
                    while deque.back().is_some_and(|last| last.1 >= key) {
                        deque.pop_back();
                    }
                    deque.push_back((arriving, key));
                }
                arriving += 1;
            }
            while barrier < barriers.len() && barriers[barrier] < minute {
                barred = barriers[barrier] + 1;
                barrier += 1;
            }
            let first = (minute - most).max(barred);
            while deque.front().is_some_and(|front| front.0 < first) {
                deque.pop_front();
            }
            if let Some(&(_, key)) = deque.front() {
                *value = (*value).min(key + slope * i64::from(minute) + offset);
            }
        }
    }
}

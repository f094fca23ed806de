//! Sliding minima: the least of a cost plus what waiting costs, over all waits within a reach.

use std::collections::VecDeque;

use super::{NEVER, SCALE};
use crate::instance::{Rate, Time};

/// Minutes from `min` to `max`; those beyond `base` cost.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Reach {
    pub(super) min: Time,
    pub(super) max: Time,
    pub(super) base: Time,
    pub(super) rate: Rate,
}

impl Reach {
    /// What so many minutes cost, scaled.
    pub(super) fn cost(self, minutes: Time) -> i64 {
        self.rate.cost(minutes - self.base) * SCALE
    }
}

/// Costs by minute, from a first minute on.
#[derive(Clone, Debug, Default)]
pub(crate) struct Costs {
    pub(crate) from: Time,
    pub(crate) at: Vec<i64>,
}

impl Costs {
    /// So many minutes from `from` to `last`, all at this cost. Empty if `last < from`.
    pub(super) fn reset(&mut self, from: Time, last: Time, cost: i64) {
        self.from = from;
        self.at.clear();
        self.at.resize(usize::try_from(last - from + 1).unwrap_or(0), cost);
    }

    /// The same minutes as another, all at this cost.
    pub(super) fn reset_like(&mut self, other: &Costs, cost: i64) {
        self.from = other.from;
        self.at.clear();
        self.at.resize(other.at.len(), cost);
    }

    /// Adds the costs of the same minutes.
    pub(super) fn add(&mut self, other: &Costs) {
        for (cost, &more) in self.at.iter_mut().zip(&other.at) {
            *cost = add(*cost, more);
        }
    }

    /// The last minute.
    pub(super) fn last(&self) -> Time {
        self.from + self.at.len() as Time - 1
    }

    /// The cost at a minute; never outside.
    pub(super) fn get(&self, minute: Time) -> i64 {
        usize::try_from(minute - self.from).ok().and_then(|index| self.at.get(index)).copied().unwrap_or(NEVER)
    }

    /// Minutes with their costs.
    pub(super) fn iter(&self) -> impl Iterator<Item = (Time, i64)> {
        (self.from..).zip(self.at.iter().copied())
    }

    /// The same, as seen with time running backwards.
    fn mirror(&self, out: &mut Costs) {
        out.from = -(self.from + self.at.len() as Time - 1);
        out.at.clear();
        out.at.extend(self.at.iter().rev());
    }
}

/// The sum of two costs, [`NEVER`] if one of them is.
pub(super) fn add(a: i64, b: i64) -> i64 {
    if a >= NEVER || b >= NEVER { NEVER } else { a + b }
}

/// The work room of sliding minima.
#[derive(Clone, Debug, Default)]
pub(super) struct Slide {
    /// Minutes and keys, keys increasing.
    queue: VecDeque<(Time, i64)>,
    mirrored: Costs,
    out: Costs,
}

impl Slide {
    /// `out(t) = min(out(t), min over s of from(s) + cost(t - s))` for `t - s` within the reach and `s >= clear(t)`.
    pub(super) fn forward(&mut self, from: &Costs, out: &mut Costs, reach: Reach, clear: Option<&[Time]>) {
        let bend = reach.base.saturating_add(reach.rate.soft);
        let (rate, after) = (reach.rate.rate * SCALE, reach.rate.rate_after * SCALE);
        if rate == after || bend >= reach.max {
            self.piece(from, out, (reach.min, reach.max), (reach.base, 0, rate), clear);
            return;
        }
        if reach.min <= bend {
            self.piece(from, out, (reach.min, bend), (reach.base, 0, rate), clear);
        }
        let at_bend = rate * i64::from(reach.rate.soft);
        self.piece(from, out, (reach.min.max(bend), reach.max), (bend, at_bend, after), clear);
    }

    /// `out(s) = min(out(s), min over t of from(t) + cost(t - s))` for `t - s` within the reach.
    pub(super) fn backward(&mut self, from: &Costs, out: &mut Costs, reach: Reach) {
        let mut mirrored = std::mem::take(&mut self.mirrored);
        let mut turned = std::mem::take(&mut self.out);
        from.mirror(&mut mirrored);
        out.mirror(&mut turned);
        self.forward(&mirrored, &mut turned, reach, None);
        out.at.clear();
        out.at.extend(turned.at.iter().rev());
        self.mirrored = mirrored;
        self.out = turned;
    }

    /// One linear piece of the cost: at `base` minutes it is `fixed`, each further one adds `slope`.
    fn piece(
        &mut self,
        from: &Costs,
        out: &mut Costs,
        (min, max): (Time, Time),
        (base, fixed, slope): (Time, i64, i64),
        clear: Option<&[Time]>,
    ) {
        self.queue.clear();
        let last_source = from.from + from.at.len() as Time;
        let mut next = from.from;
        let first = out.from;
        for (index, least) in out.at.iter_mut().enumerate() {
            let now = first + index as Time;
            while next < last_source && next <= now.saturating_sub(min) {
                let cost = from.at[(next - from.from) as usize];
                if cost < NEVER {
                    let key = cost - slope * i64::from(next);
                    while self.queue.back().is_some_and(|back| back.1 >= key) {
                        self.queue.pop_back();
                    }
                    self.queue.push_back((next, key));
                }
                next += 1;
            }
            let mut earliest = now.saturating_sub(max);
            if let Some(clear) = clear {
                earliest = earliest.max(clear[index]);
            }
            while self.queue.front().is_some_and(|front| front.0 < earliest) {
                self.queue.pop_front();
            }
            if let Some(&(_, key)) = self.queue.front() {
                *least = (*least).min(key + fixed + slope * (i64::from(now) - i64::from(base)));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn both_directions_agree_with_trying_every_wait(
            costs in prop::collection::vec(0_i64..50, 1..20),
            (min, more) in (-3_i32..6, 0_i32..8),
            (rate, extra, soft) in (0_i64..4, 0_i64..5, 0_i32..6),
            shift in -4_i32..8,
        ) {
            let reach = Reach { min, max: min + more, base: min, rate: Rate { rate, soft, rate_after: rate + extra } };
            let from = Costs { from: 10, at: costs };
            let mut slide = Slide::default();
            let mut out = Costs::default();
            out.reset(10 + shift, 40, NEVER);
            slide.forward(&from, &mut out, reach, None);
            for (t, cost) in out.iter() {
                let best = from.iter().filter(|(s, _)| (reach.min..=reach.max).contains(&(t - s)))
                    .map(|(s, c)| c + reach.cost(t - s)).min().unwrap_or(NEVER);
                prop_assert_eq!(cost, best);
            }
            out.reset(shift, 30, NEVER);
            slide.backward(&from, &mut out, reach);
            for (s, cost) in out.iter() {
                let best = from.iter().filter(|(t, _)| (reach.min..=reach.max).contains(&(t - s)))
                    .map(|(t, c)| c + reach.cost(t - s)).min().unwrap_or(NEVER);
                prop_assert_eq!(cost, best);
            }
        }
    }
}

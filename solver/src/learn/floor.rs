//! Costs by minute, and the least of them in a window.

use crate::instance::Time;
use crate::price::{Costs, NEVER};

/// Minutes looked at together.
const BLOCK: usize = 16;

/// Costs by minute; never outside.
pub(super) struct Floor {
    from: Time,
    at: Vec<i64>,
    /// The least of each block.
    blocks: Vec<i64>,
}

impl Floor {
    pub(super) fn new(costs: &Costs) -> Self {
        let least = |block: &[i64]| block.iter().copied().min().unwrap_or(NEVER);
        Floor { from: costs.from, at: costs.at.clone(), blocks: costs.at.chunks(BLOCK).map(least).collect() }
    }

    /// The least cost from `lo` to `hi`.
    pub(super) fn least(&self, lo: Time, hi: Time) -> i64 {
        let Some((mut index, last)) = self.clip(lo, hi) else { return NEVER };
        let mut least = NEVER;
        while index <= last {
            if index.is_multiple_of(BLOCK) && index + BLOCK <= last + 1 {
                least = least.min(self.blocks[index / BLOCK]);
                index += BLOCK;
            } else {
                least = least.min(self.at[index]);
                index += 1;
            }
        }
        least
    }

    /// The first minute from `lo` to `hi` that costs at most `most`.
    pub(super) fn first(&self, lo: Time, hi: Time, most: i64) -> Option<Time> {
        let (mut index, last) = self.clip(lo, hi)?;
        while index <= last {
            if index.is_multiple_of(BLOCK) && self.blocks[index / BLOCK] > most {
                index += BLOCK;
            } else if self.at[index] <= most {
                return Some(self.from + index as Time);
            } else {
                index += 1;
            }
        }
        None
    }

    /// The last minute from `lo` to `hi` that costs at most `most`.
    pub(super) fn last(&self, lo: Time, hi: Time, most: i64) -> Option<Time> {
        let (first, last) = self.clip(lo, hi)?;
        let mut next = last + 1;
        while next > first {
            if next.is_multiple_of(BLOCK) && self.blocks[next / BLOCK - 1] > most {
                next = next.saturating_sub(BLOCK);
            } else if self.at[next - 1] <= most {
                return Some(self.from + next as Time - 1);
            } else {
                next -= 1;
            }
        }
        None
    }

    /// Makes a window as narrow as needed for no minute in it to cost less than `cost`, of those around `now`.
    pub(super) fn narrow(&self, window: &mut [Time; 2], now: [Time; 2], cost: i64) {
        if let Some(minute) = self.last(Time::MIN, now[0] - 1, cost - 1) {
            window[0] = window[0].max(minute + 1);
        }
        if let Some(minute) = self.first(now[1] + 1, Time::MAX, cost - 1) {
            window[1] = window[1].min(minute - 1);
        }
    }

    /// A window as indices.
    fn clip(&self, lo: Time, hi: Time) -> Option<(usize, usize)> {
        let first = lo.saturating_sub(self.from).max(0) as usize;
        let last = usize::try_from(hi.saturating_sub(self.from)).ok()?.min(self.at.len().checked_sub(1)?);
        (first <= last).then_some((first, last))
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn windows_agree_with_looking_at_each_minute(
            at in prop::collection::vec(0_i64..9, 0..70),
            lo in -5_i32..80,
            length in -2_i32..80,
            most in -1_i64..9,
        ) {
            let floor = Floor::new(&Costs { from: 3, at: at.clone() });
            let inside = || (3..).zip(at.iter().copied()).filter(|(minute, _)| (lo..=lo + length).contains(minute));
            let cheap = || inside().filter(|(_, cost)| *cost <= most).map(|(minute, _)| minute);
            prop_assert_eq!(floor.least(lo, lo + length), inside().map(|(_, cost)| cost).min().unwrap_or(NEVER));
            prop_assert_eq!(floor.first(lo, lo + length, most), cheap().next());
            prop_assert_eq!(floor.last(lo, lo + length, most), cheap().last());
        }
    }
}

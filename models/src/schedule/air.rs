//! The temperature a cavity's air may have at each minute.
//!
//! A run of a step asks for its window from `settle` minutes before its start to its end. Two windows that do not meet are
//! a changeover apart in a valid plan, which is `settle` and the rise or fall between them; so the windows, each widened
//! backwards by what can be reached in the time, always leave a corridor, and one curve goes through all of them.

use super::running::Run;
use crate::oven::{Tenths, change_inside, within_reach};
use crate::problem::{Cavity, Minute};

/// Beyond any legal temperature.
const WIDE: Tenths = 1_000_000;

/// For each minute, the lowest and highest air temperature from which everything later can still be kept.
pub(super) struct Corridor {
    first: Minute,
    bounds: Vec<(Tenths, Tenths)>,
}

/// The air temperature window of a run, within what the cavity can do.
pub(super) fn window(cavity: &Cavity, run: &Run<'_>) -> Option<[i64; 2]> {
    run.mode.t.map(|window| within_reach(cavity, window))
}

impl Corridor {
    /// `before` gives, for a run whose pan has stayed in from another step, that step's run.
    pub(super) fn new<'a>(
        cavity: &Cavity,
        runs: &[Run<'a>],
        first: Minute,
        before: impl Fn(&Run<'a>) -> Option<Run<'a>>,
    ) -> Self {
        let last = runs.iter().map(|run| run.end).max().unwrap_or(first).max(first);
        let len = usize::try_from(last - first + 1).unwrap_or(0);
        let mut bounds = vec![(-WIDE, WIDE); len];
        for run in runs {
            let Some([low, high]) = window(cavity, run) else { continue };
            let from = match before(run).and_then(|earlier| window(cavity, &earlier)) {
                // The change happens inside the step: its window binds once it can have been reached.
                Some(earlier) => run.start + change_inside(cavity, earlier, [low, high]),
                None => run.start - cavity.settle,
            };
            for minute in from.max(first)..=run.end {
                if let Some(bound) = usize::try_from(minute - first).ok().and_then(|index| bounds.get_mut(index)) {
                    *bound = (bound.0.max(10 * low), bound.1.min(10 * high));
                }
            }
        }
        for index in (1..len).rev() {
            let (low, high) = bounds[index];
            let earlier = &mut bounds[index - 1];
            *earlier = (earlier.0.max(low - cavity.rise), earlier.1.min(high + cavity.fall));
        }
        Corridor { first, bounds }
    }

    pub(super) fn holds(&self, minute: Minute, air: Tenths) -> bool {
        let bound = usize::try_from(minute - self.first).ok().and_then(|index| self.bounds.get(index));
        bound.is_none_or(|&(low, high)| low <= air && air <= high)
    }
}

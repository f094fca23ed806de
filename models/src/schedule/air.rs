//! The temperature a cavity's air may have at each minute.
//!
//! A run of a step asks for its window from `settle` minutes before its start to its end. Two windows that do not meet are
//! a changeover apart in a valid plan, which is `settle` and the rise or fall between them; so the windows, each widened
//! backwards by what can be reached in the time, always leave a corridor, and one curve goes through all of them.

use super::running::Run;
use crate::problem::{Cavity, Minute};

/// Tenths of a degree: rates are degrees per ten minutes, so that a minute's change is a whole number of them.
pub(super) type Tenths = i64;

/// Beyond any legal temperature.
const WIDE: Tenths = 1_000_000;

/// For each minute, the lowest and highest air temperature from which everything later can still be kept.
pub(super) struct Corridor {
    first: Minute,
    bounds: Vec<(Tenths, Tenths)>,
}

/// The air temperature window of a run, within what the cavity can do.
pub(super) fn window(cavity: &Cavity, run: &Run<'_>) -> Option<(i64, i64)> {
    let [low, high] = run.mode.t?;
    Some((low.max(cavity.t_min), high.min(cavity.t_max)))
}

/// Minutes the air needs from one temperature to another.
pub(super) fn minutes_between(cavity: &Cavity, from: Tenths, to: Tenths) -> Minute {
    let rate = if to > from { cavity.rise } else { cavity.fall };
    let way = (to - from).abs();
    if rate <= 0 { 0 } else { (way + rate - 1) / rate }
}

/// The air a minute later, with the dial at `target`.
pub(super) fn drift(cavity: &Cavity, air: Tenths, target: Tenths) -> Tenths {
    if target > air { target.min(air + cavity.rise) } else { target.max(air - cavity.fall) }
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
            let Some((low, high)) = window(cavity, run) else { continue };
            let from = match before(run).and_then(|earlier| window(cavity, &earlier)) {
                // The change happens inside the step: its window binds once it can have been reached.
                Some(earlier) => run.start + change(cavity, earlier, (low, high)),
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

/// Minutes within which one window is reached from anywhere in another.
fn change(cavity: &Cavity, from: (i64, i64), to: (i64, i64)) -> Minute {
    let up = if to.0 > from.0 { minutes_between(cavity, 10 * from.0, 10 * to.0) } else { 0 };
    let down = if to.1 < from.1 { minutes_between(cavity, 10 * from.1, 10 * to.1) } else { 0 };
    up.max(down)
}

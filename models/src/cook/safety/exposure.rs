//! Food between the cold and the hot limit: cumulative time, and what may be done with it.

use serde::{Deserialize, Serialize};

use super::Region;

/// What may still be done with food by the time it has spent between the limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Keeping {
    /// Use it, or chill it and keep it.
    UseOrChill,
    /// Use it now; it may not be chilled again.
    UseNow,
    /// Throw it away.
    Discard,
}

/// Minutes between the region's limits along a course of `(minute, degrees C)`, in order of time; spells add up.
pub fn minutes_between(course: &[(f64, f64)], region: Region) -> f64 {
    let (cold, hot) = (region.cold_c().value, region.hot_c().value);
    let spans = course.windows(2).map(|pair| {
        let ((from, a), (to, b)) = (pair[0], pair[1]);
        let (low, high) = (a.min(b), a.max(b));
        let inside = if high > low {
            ((high.min(hot) - low.max(cold)) / (high - low)).max(0.0)
        } else if low > cold && low < hot {
            1.0
        } else {
            0.0
        };
        (to - from).max(0.0) * inside
    });
    spans.sum()
}

/// What may be done with food that has spent so many minutes between the limits in all.
pub fn keeping(minutes: f64, region: Region) -> Keeping {
    if minutes < region.rechill_minutes().value {
        Keeping::UseOrChill
    } else if minutes <= region.between_minutes().value {
        Keeping::UseNow
    } else {
        Keeping::Discard
    }
}

//! Food between the cold and the hot limit: cumulative time, holding, and what to do.

use serde::Serialize;

use super::Region;
use super::caution::{Caution, Weight};
use crate::caution::Topic;
use crate::cook::fault::{Fault, Legal, none_of};

/// What may still be done with food by the time it has spent between the limits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
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

/// Cautions for holding food at `held_c` degrees C for `minutes`, after it spent `already` minutes between the limits.
///
/// # Errors
/// Every number out of its range: degrees -30..=150, minutes 0..=10000.
pub fn holding(held_c: f64, minutes: f64, already: f64, region: Region) -> Result<Vec<Caution>, Vec<Fault>> {
    let mut faults = Vec::new();
    Legal::new("held_c", -30.0, 150.0, "C").check(held_c, &mut faults);
    Legal::new("minutes", 0.0, 10_000.0, "min").check(minutes, &mut faults);
    Legal::new("already", 0.0, 10_000.0, "min").check(already, &mut faults);
    none_of(faults)?;
    let (cold, hot) = (region.cold_c(), region.hot_c());
    if held_c >= hot.value || held_c <= cold.value {
        return Ok(Vec::new());
    }
    let total = already + minutes;
    let limit = region.between_minutes();
    let (weight, what) = match keeping(total, region) {
        Keeping::Discard => (Weight::Breach, "then throw it away"),
        Keeping::UseNow => (Weight::Caution, "use it at once and chill none of it"),
        Keeping::UseOrChill => (Weight::Caution, "use it, or chill it quickly"),
    };
    let text = format!(
        "held at {held_c:.0} C, between {:.0} and {:.0} C, for {total:.0} min in all (limit {:.0}): {what}",
        cold.value, hot.value, limit.value
    );
    Ok(vec![Caution::new(Topic::Holding, weight, text, limit.source)])
}

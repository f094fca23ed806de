//! Time and temperature equivalents for whole beef.
//!
//! USDA FSIS Appendix A, *Compliance Guidelines for Meeting Lethality Performance Standards* (1999), cooked, roast and
//! corned beef table, read on a page that quotes it in full. The times must hold in all parts. The table does not go for
//! poultry, minced, injected or tenderised meat, and nothing is credited below 54.4 C. At 54.4 C a later study (McMinn et
//! al., 2018, abstract) did not see the stated reduction: plan for 57 C or more where the claim matters.

use serde::{Deserialize, Serialize};

use super::Handling;
use super::caution::read;
use crate::cook::{Meat, Source};

/// Where the table comes from.
pub const APPENDIX_A: Source = read("USDA FSIS Appendix A (1999), cooked, roast and corned beef table");

/// The reduction of Salmonella wanted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Reduction {
    /// 6.5 decimal reductions.
    Log65,
    /// 7 decimal reductions.
    Log70,
}

impl Reduction {
    pub(super) fn logs(self) -> f64 {
        match self {
            Reduction::Log65 => 6.5,
            Reduction::Log70 => 7.0,
        }
    }
}

/// Degrees C as printed, seconds for 6.5 and for 7 decimal reductions.
const TABLE: [[f64; 3]; 31] = [
    [54.4, 6720.0, 7260.0],
    [55.0, 5340.0, 5820.0],
    [55.6, 4260.0, 4620.0],
    [56.1, 3360.0, 3720.0],
    [56.7, 2700.0, 2820.0],
    [57.2, 2160.0, 2220.0],
    [57.8, 1680.0, 1920.0],
    [58.4, 1380.0, 1440.0],
    [58.9, 1080.0, 1140.0],
    [59.5, 900.0, 900.0],
    [60.0, 720.0, 720.0],
    [60.6, 540.0, 600.0],
    [61.1, 480.0, 480.0],
    [61.7, 360.0, 360.0],
    [62.2, 300.0, 300.0],
    [62.8, 240.0, 240.0],
    [63.3, 169.0, 182.0],
    [63.9, 134.0, 144.0],
    [64.4, 107.0, 115.0],
    [65.0, 85.0, 91.0],
    [65.6, 67.0, 72.0],
    [66.1, 54.0, 58.0],
    [66.7, 43.0, 46.0],
    [67.2, 34.0, 37.0],
    [67.8, 27.0, 29.0],
    [68.3, 22.0, 23.0],
    [68.9, 17.0, 19.0],
    [69.4, 14.0, 15.0],
    [70.0, 0.0, 0.0],
    [70.6, 0.0, 0.0],
    [71.1, 0.0, 0.0],
];

/// Rows with a time of their own; above them the table says "instant".
const TIMED: usize = 28;

/// Seconds at a steady `core_c` for the reduction, interpolated in the logarithm of time; `None` below 54.4 C, where
/// nothing is credited, and zero from 70 C.
///
/// ```
/// use rangewright_models::cook::safety::{Reduction, hold_seconds};
///
/// assert_eq!(hold_seconds(60.0, Reduction::Log65), Some(720.0));
/// assert_eq!(hold_seconds(54.0, Reduction::Log65), None);
/// ```
pub fn hold_seconds(core_c: f64, reduction: Reduction) -> Option<f64> {
    let column = if reduction == Reduction::Log65 { 1 } else { 2 };
    if core_c.is_nan() || core_c < TABLE[0][0] {
        return None;
    }
    if core_c >= TABLE[TIMED][0] {
        return Some(0.0);
    }
    let above = TABLE[..TIMED].partition_point(|row| row[0] <= core_c).min(TIMED - 1);
    let (lo, hi) = (TABLE[above - 1], TABLE[above]);
    if core_c == lo[0] {
        return Some(lo[column]);
    }
    let part = ((core_c - lo[0]) / (hi[0] - lo[0])).min(1.0);
    Some((lo[column].ln() + part * (hi[column].ln() - lo[column].ln())).exp())
}

/// Whether the table may be used, or why not.
pub fn table_applies(meat: Meat, handling: Handling) -> Result<(), &'static str> {
    match (meat, handling) {
        (Meat::Beef, Handling::Whole) => Ok(()),
        (Meat::Beef, _) => Err("the beef table does not go for minced, injected or tenderised meat"),
        (Meat::Poultry, _) => Err("the beef table never goes for poultry"),
        _ => Err("the table is for beef; pork, lamb and veal go by 62.8 C (145 F) and 3 minutes"),
    }
}

/// Decimal reductions credited along a course of core temperatures, `(minute, degrees C)` in order of time.
///
/// Each span is credited at the cooler of its ends, and never faster than at the last row that has a time (14 s), so
/// that a short spike cannot carry the claim.
pub fn credited_logs(course: &[(f64, f64)], reduction: Reduction) -> f64 {
    let slowest = TABLE[TIMED - 1][0];
    let spans = course.windows(2).map(|pair| {
        let seconds = (pair[1].0 - pair[0].0).max(0.0) * 60.0;
        let core = pair[0].1.min(pair[1].1).min(slowest);
        hold_seconds(core, reduction).map_or(0.0, |needed| reduction.logs() * seconds / needed)
    });
    spans.sum()
}

//! What a thermometer in mid-roast says about the minutes that are left, when no more is known of the roast than its plan.
//!
//! Conduction into a solid at constant air temperature soon follows its first term alone: the distance of the centre from
//! the air falls as `A * exp(-t / tau)` (one-term approximation of the series for slab, cylinder and ball, good once the
//! Fourier number is above 0.2; Carslaw and Jaeger, Conduction of Heat in Solids; from memory). `A` grows with the Biot
//! number; for a joint in an oven, a cylinder at a Biot number about 2 (1.34) with its ends (1.2), it is 1.6 (recomputed from
//! the series, conduction.csv). The planned minutes fix
//! `tau`; the reading says how far along that curve the roast is, and so at which pace it goes.
//!
//! What drives the heat inwards is not the air but the surface, and as long as that is moist it stays below the boiling
//! point of water. So the centre is taken to approach 95 C, however hot the oven (our assumption; it follows the roasts of
//! [`cook::roast`](crate::cook::roast) within a tenth of their minutes, where the air itself would be out by a fifth).
//!
//! A reading is weighed against what was planned as [`reforecast`](crate::cook::roast::reforecast) weighs it, with the spread
//! of a first time: only the curve differs, which is the roast's own where the roast is known.

use serde::{Deserialize, Serialize};

use crate::cook::Calibration;
use crate::cook::roast::MOVED;
use crate::problem::Minute;

/// The first coefficient of the series for a joint in an oven (see above).
const JOINT: f64 = 1.6;
/// What the centre approaches at the most, degrees C (our assumption, see above).
const MOIST: i64 = 95;

/// A reading, and what was planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Reading {
    /// Minutes since it went in.
    pub minute: Minute,
    /// The centre, degrees C.
    pub core: i64,
    /// The centre when it went in, degrees C.
    pub from: i64,
    /// The centre at which it comes out, degrees C.
    pub target: i64,
    /// The air, degrees C.
    pub air: i64,
    /// Minutes planned from `from` to `target`.
    pub planned: Minute,
}

/// Minutes from the reading to the target.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Left {
    /// The likeliest.
    pub minutes: Minute,
    /// As early as that may be, nine times in ten.
    pub early: Minute,
    /// As late as that may be, nine times in ten.
    pub late: Minute,
}

/// The minutes left after a reading; `None` if it is too early to say, or the numbers make no sense together.
///
/// ```
/// use rangewright_models::day::{Reading, left};
/// // After 100 of 200 minutes the middle ought to show 35 C.
/// let reading = |core| left(&Reading { minute: 100, core, from: 5, target: 70, air: 150, planned: 200 });
/// let late = reading(26).expect("it has moved");
/// assert!(late.minutes > 100 && late.early < late.minutes && late.minutes < late.late);
/// assert_eq!(reading(8), None);
/// assert_eq!(reading(71).map(|left| left.minutes), Some(0));
/// ```
pub fn left(reading: &Reading) -> Option<Left> {
    let Reading { minute, core, from, target, air, planned } = *reading;
    let air = if target < MOIST { air.min(MOIST) } else { air };
    let [minute, core, from, target, air, planned] =
        [minute, core, from, target, air, planned].map(|number| number as f64);
    let sensible = minute >= 1.0 && planned >= 1.0 && from < target && target < air;
    if !sensible || core < from + MOVED {
        return None;
    }
    if core >= target {
        return Some(Left { minutes: 0, early: 0, late: 0 });
    }
    let along =
        |core: f64| planned * (JOINT * (air - from) / (air - core)).ln() / (JOINT * (air - from) / (air - target)).ln();
    let here = along(core);
    // Degrees a minute, a degree about the reading.
    let slope = 2.0 / (along(core + 1.0) - along(core - 1.0)).max(0.01);
    let [early, likely, late] = Calibration::unknown().read_at(minute, here, slope).left(planned - here, slope);
    Some(Left { minutes: likely.round() as Minute, early: early.floor() as Minute, late: late.ceil() as Minute })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_roast_on_its_curve_needs_what_was_planned() {
        // The centre of the curve itself, at half time: planned 200, so 100 are left.
        let (from, target, air) = (5.0, 70.0, MOIST as f64);
        let whole = (JOINT * (air - from) / (air - target)).ln();
        let core = air - JOINT * (air - from) / (whole / 2.0).exp();
        let at = |core: f64| {
            let reading =
                Reading { minute: 100, core: core.round() as i64, from: 5, target: 70, air: 150, planned: 200 };
            left(&reading).expect("it has moved").minutes
        };
        assert!((at(core) - 100).abs() <= 4, "{core} {}", at(core));
        assert!(at(core - 6.0) > at(core) && at(core) > at(core + 6.0));
    }
}

//! What a thermometer in mid-roast says about the minutes that are left, when no more is known of the roast than its plan.
//!
//! Conduction into a solid at constant air temperature soon follows its first term alone: the distance of the centre from
//! the air falls as `A * exp(-t / tau)` (one-term approximation of the series for slab, cylinder and ball, good once the
//! Fourier number is above 0.2; Carslaw and Jaeger, Conduction of Heat in Solids; from memory). `A` grows with the Biot
//! number; for a joint in an oven, a cylinder at a Biot number about 2, it is 1.3 (from memory). The planned minutes fix
//! `tau`; the reading says how far along that curve the roast is, and so at which pace it goes.
//!
//! What drives the heat inwards is not the air but the surface, and as long as that is moist it stays below the boiling
//! point of water. So the centre is taken to approach 95 C, however hot the oven (our assumption; it follows the roasts of
//! [`cook::roast`](crate::cook::roast) within a tenth of their minutes, where the air itself would be out by a fifth).
//!
//! Where the roast itself is known, [`reforecast`](crate::cook::roast::reforecast) knows more.

use serde::{Deserialize, Serialize};

use crate::problem::Minute;

/// The first coefficient of the series for a joint in an oven (from memory, see above).
const JOINT: f64 = 1.3;
/// What the centre approaches at the most, degrees C (our assumption, see above).
const MOIST: i64 = 95;
/// What a probe may be out by, with where it is stuck, degrees C (our assumption).
const PROBE_ERROR: f64 = 1.5;
/// A reading says nothing of the pace before the centre has moved so far, degrees C.
const MOVED: f64 = 5.0;
/// The slowest and fastest pace believed; beyond it the probe is stuck in the wrong place.
const PACES: [f64; 2] = [0.5, 2.0];

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
    /// If the probe shows too little.
    pub early: Minute,
    /// If the probe shows too much.
    pub late: Minute,
}

/// The minutes left after a reading; `None` if it is too early to say, or the numbers make no sense together.
///
/// ```
/// use rangewright_models::day::{Reading, left};
/// // After 100 of 200 minutes the middle ought to show 41 C.
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
    let along = |core: f64| (JOINT * (air - from) / (air - core)).ln();
    let remaining = |core: f64| {
        let here = planned * along(core.min(target)) / along(target);
        let pace = (minute / here.max(1.0)).clamp(PACES[0], PACES[1]);
        (planned - here) * pace
    };
    Some(Left {
        minutes: remaining(core).round() as Minute,
        early: remaining(core + PROBE_ERROR).floor().max(0.0) as Minute,
        late: remaining(core - PROBE_ERROR).ceil() as Minute,
    })
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

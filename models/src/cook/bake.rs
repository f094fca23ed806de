//! Bakes and gratins: minutes at another temperature, with another heat, with more trays, or from a cold oven.
//!
//! No source gives such a rule. Ours: `minutes ~ (oven - done)^-n` where `done` is the temperature at which the dish is
//! done; n = 1 is a thin dish that takes up heat as fast as its surface does, n = 0.35 is what the heat model gives for
//! roasts. 0.6 is used, the two ends are the range, and nothing is said further than 30 degrees from what is known.
//! Altitude is left out.

use serde::{Deserialize, Serialize};

use super::air::convection;
use super::fault::{Fault, Legal, none_of};
use crate::problem::Heat;

/// Exponent used, and the ends of its range.
const EXPONENT: f64 = 0.6;
const EXPONENTS: [f64; 2] = [0.35, 1.0];
/// Furthest from the known temperature, degrees C.
const REACH: f64 = 30.0;
/// Minutes in a fan oven over minutes in a still one at the same dial: 0.82 for rib and 0.71 for turkey in a household
/// range's chart (read), 0.75 by common practice; the range spans them and the heat model's 0.88.
const FAN: f64 = 0.80;
const FAN_RANGE: [f64; 2] = [0.71, 0.88];
/// Each further pan of cold food adds so much (our assumption), with a fan and still.
const TRAY: [f64; 2] = [0.05, 0.10];
/// Share of the minutes of heating up that a dish put into a cold oven does not gain (our assumption).
const COLD: f64 = 0.6;

/// A dish whose minutes are known once.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Bake {
    /// Minutes known: 3 to 600.
    pub minutes: f64,
    /// At this oven temperature, degrees C: 120 to 280.
    pub oven_c: f64,
    /// With this heat.
    pub heat: Heat,
    /// Done when its middle is at so many degrees C: 60 to 100.
    pub done_c: f64,
}

/// How it is to be baked now.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Baking {
    /// Oven temperature, degrees C: within 30 of the known one, and at least 30 above `done_c`.
    pub oven_c: f64,
    /// With this heat.
    pub heat: Heat,
    /// Trays at once: 1 to 10.
    pub trays: u32,
    /// Minutes the oven still needs to come to heat when the dish goes in: 0 to 60.
    pub heating_min: f64,
}

/// Minutes with their range.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct BakeMinutes {
    /// The estimate, whole minutes.
    pub minutes: i64,
    /// The least.
    pub early_min: i64,
    /// The most.
    pub late_min: i64,
}

/// By how much minutes grow when so many more pans of cold food go into the same oven: our assumption, for no source gives
/// a figure. An oven with strong elements hardly notices them, so that the early end of a range does not move.
///
/// ```
/// use rangewright_models::cook::bake::beside;
/// use rangewright_models::problem::Heat;
/// assert_eq!((beside(Heat::Fan, 2), beside(Heat::Static, 2), beside(Heat::Fan, 0)), (1.1, 1.2, 1.0));
/// ```
pub fn beside(heat: Heat, pans: u32) -> f64 {
    1.0 + f64::from(pans) * TRAY[usize::from(heat != Heat::Fan)]
}

/// Minutes of a bake done another way than the one that is known.
///
/// # Errors
/// Every number out of its range, a temperature too far from the known one, or a heat without a model.
///
/// ```
/// use rangewright_models::cook::bake::{Bake, Baking, minutes};
/// use rangewright_models::problem::Heat;
///
/// let gratin = Bake { minutes: 50.0, oven_c: 180.0, heat: Heat::Static, done_c: 80.0 };
/// let cooler = Baking { oven_c: 160.0, heat: Heat::Static, trays: 1, heating_min: 0.0 };
/// let there = minutes(&gratin, &cooler)?;
/// assert!(there.early_min < there.minutes && there.minutes < there.late_min);
/// assert_eq!(there.minutes, 57);
/// # Ok::<(), Vec<rangewright_models::cook::Fault>>(())
/// ```
pub fn minutes(known: &Bake, now: &Baking) -> Result<BakeMinutes, Vec<Fault>> {
    let mut faults = Vec::new();
    Legal::new("minutes", 3.0, 600.0, "min").check(known.minutes, &mut faults);
    Legal::new("oven_c", 120.0, 280.0, "C").check(known.oven_c, &mut faults);
    Legal::new("done_c", 60.0, 100.0, "C").check(known.done_c, &mut faults);
    if faults.is_empty() {
        let (lo, hi) = ((known.oven_c - REACH).max(known.done_c + 30.0), known.oven_c + REACH);
        Legal::new("now.oven_c", lo, hi, "C").check(now.oven_c, &mut faults);
        if known.oven_c < known.done_c + 30.0 {
            let why = "the known oven is less than 30 C above the middle of the dish".to_owned();
            faults.push(Fault::Unsuitable { field: "oven_c", why });
        }
    }
    Legal::new("now.trays", 1.0, 10.0, "").check(f64::from(now.trays), &mut faults);
    Legal::new("now.heating_min", 0.0, 60.0, "min").check(now.heating_min, &mut faults);
    for (field, heat) in [("heat", known.heat), ("now.heat", now.heat)] {
        if convection(heat).is_none() {
            let why = "there is no rule for steam and grill: use fan or static".to_owned();
            faults.push(Fault::Unsuitable { field, why });
        }
    }
    none_of(faults)?;

    let ratio = (known.oven_c - known.done_c) / (now.oven_c - known.done_c);
    let heats = |factor: f64| match (known.heat == Heat::Fan, now.heat == Heat::Fan) {
        (false, true) => factor,
        (true, false) => 1.0 / factor,
        _ => 1.0,
    };
    let trays = beside(now.heat, now.trays - 1);
    let at =
        |exponent: f64, fan: f64| known.minutes * ratio.powf(exponent) * heats(fan) * trays + COLD * now.heating_min;
    let ends = EXPONENTS.map(|exponent| FAN_RANGE.map(|fan| at(exponent, fan))).concat();
    // A dish is never known to the minute: five per cent even at the very temperature that is known.
    let early = ends.iter().copied().fold(f64::INFINITY, f64::min) * 0.95;
    let late = ends.iter().copied().fold(0.0, f64::max) * 1.05;
    Ok(BakeMinutes {
        minutes: at(EXPONENT, FAN).round() as i64,
        early_min: early.floor() as i64,
        late_min: late.ceil() as i64,
    })
}

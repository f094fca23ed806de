//! How far to trust the minutes, and how a cook's own log narrows and shifts them.
//!
//! Real minutes over computed minutes are taken as log-normal. Before any log, the factor is 1 with the spread of the
//! model against published rows (ROASTING.md); each past roast in the same kitchen shifts it and narrows what is common
//! to all roasts, while the spread from one roast to the next (start, shape, probe, thermostat) stays.

use serde::{Deserialize, Serialize};

use super::cut::Cut;
use super::fault::{Fault, Legal, none_of};
use super::roast::{Oven, Pace, Roast, RoastFault, minutes_to};

/// Spread of the factor common to all roasts of a kitchen, before any log: as published sources differ from each other.
const KITCHEN: f64 = 0.10;
/// Spread from one roast to the next (our assumption).
const ROAST: f64 = 0.06;
/// Spread added when the thickness is guessed from the weight: 6 % of thickness is 10 % of time. With the two above it
/// makes the spread that holds nine in ten of the published rows whose source was left out of the fit (ROASTING.md).
const GUESSED: f64 = 0.105;
/// Spread added for a thin piece on a tin, for duck and goose, and for an eye of round, of which published minutes differ
/// the most.
const THIN: f64 = 0.12;
/// Spread added for a boneless piece that is not tied: it is not the same thickness all along.
const UNTIED: f64 = 0.04;
/// Standard deviations on each side of the printed range: 90 % of a normal distribution.
const RANGE: f64 = 1.645;
/// Longest log that is used, most recent entries last.
const LONGEST: usize = 500;

/// A roast of the past.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PastRoast {
    /// What was roasted.
    pub roast: Roast,
    /// In which oven.
    pub oven: Oven,
    /// At how many degrees C.
    pub oven_c: f64,
    /// How many minutes it was in the oven.
    pub minutes: f64,
    /// Its centre when it came out, degrees C.
    pub pull_c: f64,
}

/// What is known of a kitchen's factor: real minutes over computed minutes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Calibration {
    /// Mean of the logarithm of the factor.
    pub log_mean: f64,
    /// Standard deviation of that mean.
    pub log_sd: f64,
    /// How many past roasts it rests on.
    pub roasts: usize,
}

impl Default for Calibration {
    fn default() -> Self {
        Self { log_mean: 0.0, log_sd: KITCHEN, roasts: 0 }
    }
}

impl Calibration {
    /// Takes in one more observed factor (real over computed minutes).
    #[must_use]
    pub fn with(self, factor: f64) -> Self {
        if !(factor.is_finite() && factor > 0.0) {
            return self;
        }
        // Beyond a factor of two something else was wrong; such an entry pulls no harder than that.
        let seen = factor.ln().clamp(-0.7, 0.7);
        let (mean, sd) = update(self.log_mean, self.log_sd, seen, ROAST);
        Self { log_mean: mean, log_sd: sd, roasts: self.roasts + 1 }
    }

    /// The factor by which computed minutes are stretched.
    pub fn factor(&self) -> f64 {
        self.log_mean.exp()
    }

    /// Least and greatest factor of nine roasts in ten.
    pub fn range(&self, roast: &Roast) -> [f64; 2] {
        let half = RANGE * self.spread(roast);
        [(self.log_mean - half).exp(), (self.log_mean + half).exp()]
    }

    /// What is expected of the pace of one roast.
    pub(super) fn pace(&self, roast: &Roast) -> Pace {
        Pace { mean: self.log_mean, sd: self.spread(roast) }
    }

    /// What is expected of a roast of which nothing is known but the minutes that were planned for it.
    pub(crate) fn unknown() -> Pace {
        let guess = Self::of_a_guess();
        Pace { mean: guess.log_mean, sd: guess.log_sd.hypot(ROAST) }
    }

    /// The same as a calibration: the minutes themselves are somebody's guess.
    pub(super) fn of_a_guess() -> Self {
        Self { log_sd: KITCHEN.hypot(GUESSED), ..Self::default() }
    }

    /// The same where something else in the oven makes it slower by a factor.
    #[must_use]
    pub fn slower(self, factor: f64) -> Self {
        let log_mean = if factor > 0.0 { (self.log_mean + factor.ln()).clamp(-0.7, 0.7) } else { self.log_mean };
        Self { log_mean, ..self }
    }

    /// Standard deviation of the logarithm of the factor of one roast.
    pub(super) fn spread(&self, roast: &Roast) -> f64 {
        let guessed = if roast.thickness_mm.is_none() { GUESSED } else { 0.0 };
        let untied = if roast.bone || roast.tied || matches!(roast.cut, Cut::Bird | Cut::Duck) { 0.0 } else { UNTIED };
        let thin = if matches!(roast.cut, Cut::Slab | Cut::Duck | Cut::Eye) { THIN } else { 0.0 };
        [self.log_sd, ROAST, guessed, untied, thin].iter().map(|sd| sd * sd).sum::<f64>().sqrt()
    }

    pub(super) fn faults(&self, faults: &mut Vec<Fault>) {
        Legal::new("calibration.log_mean", -0.7, 0.7, "").check(self.log_mean, faults);
        Legal::new("calibration.log_sd", 0.0, 0.5, "").check(self.log_sd, faults);
    }
}

/// A normal prior and one reading with its own spread.
pub(super) fn update(mean: f64, sd: f64, seen: f64, noise: f64) -> (f64, f64) {
    let gain = sd * sd / (sd * sd + noise * noise);
    (mean + gain * (seen - mean), (1.0 - gain).sqrt() * sd)
}

/// What a log of past roasts says about the next. The last 500 entries are used.
///
/// # Errors
/// Every fault of every entry.
pub fn calibrate(log: &[PastRoast]) -> Result<Calibration, RoastFault> {
    let mut calibration = Calibration::default();
    for past in &log[log.len().saturating_sub(LONGEST)..] {
        let mut faults = Vec::new();
        Legal::new("minutes", 1.0, 2_880.0, "min").check(past.minutes, &mut faults);
        Legal::new("oven_c", 80.0, 260.0, "C").check(past.oven_c, &mut faults);
        none_of(faults).map_err(RoastFault::Input)?;
        calibration = calibration.with(past.minutes / minutes_to(&past.roast, &past.oven, past.oven_c, past.pull_c)?);
    }
    Ok(calibration)
}

//! What a reading says of the pace of a roast: the one place where it is weighed against what was expected.

use crate::cook::calibrate::update;

/// What a probe may be out by, with where it is stuck, degrees C (our assumption).
pub(crate) const PROBE_ERROR: f64 = 1.5;
/// A reading says nothing about the pace before the core has moved this far, degrees C.
pub(crate) const MOVED: f64 = 5.0;
/// No roast is believed to go at less than a third or more than thrice the pace.
const FURTHEST: f64 = 1.1;
/// Standard deviations on each side of a range of nine in ten.
const RANGE: f64 = 1.645;

/// Real minutes over computed minutes of one roast: mean and standard deviation of the logarithm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Pace {
    pub(crate) mean: f64,
    pub(crate) sd: f64,
}

impl Pace {
    /// Real over computed minutes.
    pub(crate) fn factor(self) -> f64 {
        self.mean.exp()
    }

    /// After a reading that means this pace, with a spread of its own.
    pub(crate) fn seen(self, log_pace: f64, spread: f64) -> Self {
        let (mean, sd) = update(self.mean, self.sd, log_pace.clamp(-FURTHEST, FURTHEST), spread);
        Self { mean, sd }
    }

    /// After a reading `minute` minutes on of what the curve has at `here`, where it rises `slope` degrees a minute: the
    /// spread is the probe's error in minutes, over the minutes so far.
    pub(crate) fn read_at(self, minute: f64, here: f64, slope: f64) -> Self {
        let here = here.max(0.5);
        self.seen((minute / here).ln(), PROBE_ERROR / slope.max(0.02) / here)
    }

    /// Minutes left of `computed` ones, with the least and the most of nine in ten, after a reading on a curve that rises
    /// `slope` degrees a minute.
    pub(crate) fn left(self, computed: f64, slope: f64) -> [f64; 3] {
        let likely = computed * self.factor();
        let half = RANGE * ((likely * self.sd).powi(2) + (PROBE_ERROR / slope.max(0.02)).powi(2)).sqrt();
        [(likely - half).max(0.0), likely, likely + half]
    }

    /// The least and the greatest factor of nine in ten.
    pub(crate) fn range(self) -> [f64; 2] {
        [-RANGE, RANGE].map(|sds| (self.mean + sds * self.sd).exp())
    }
}

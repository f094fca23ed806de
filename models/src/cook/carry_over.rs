//! The rise of the centre after a roast leaves the oven.
//!
//! The heat model overstates it: measured rises (Lowe, *Experimental Cookery*, 1932, mean values of 39 roasts) and a
//! textbook's rule lie at 0.6 to 1.0 of it, so 0.8 is used. The band printed is widened until it holds the measured rows
//! whose oven is known well enough to compare; see ROASTING.md for those and for what it misses.

use serde::{Deserialize, Serialize};

/// Rise that is planned with, as a share of the model's.
const SHARE: f64 = 0.8;
/// Least and greatest share of the band.
const BAND: [f64; 2] = [0.6, 1.0];
/// Degrees by which the band is widened at its top: well-done roasts, seared hotter than the model assumes, rose more.
const WIDENED: f64 = 3.5;

/// The rise of the centre during the rest.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct CarryOver {
    /// Degrees planned with.
    pub rise_c: f64,
    /// Least and greatest rise of the printed band, degrees.
    pub band_c: [f64; 2],
    /// Minutes from the pull to the peak, as far as the rest lasts.
    pub peak_after_min: f64,
}

/// A core during the rest as it is planned with, and as the least of the band has it: where the model has it rise above
/// the pull, it rises less.
pub(super) fn tempered(pull_c: f64, core_c: f64) -> [f64; 2] {
    [SHARE, BAND[0]].map(|share| if core_c > pull_c { pull_c + share * (core_c - pull_c) } else { core_c })
}

impl CarryOver {
    /// From the rise that the heat model gives, degrees, and the minute of its peak.
    pub fn of_model(model_rise: f64, peak_after_min: f64) -> Self {
        let rise = model_rise.max(0.0);
        Self { rise_c: SHARE * rise, band_c: [BAND[0] * rise, BAND[1] * rise + WIDENED], peak_after_min }
    }
}

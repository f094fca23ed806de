//! The rise of the centre after a roast leaves the oven, and what it rests under.
//!
//! The heat model overstates large rises: against the published ones (carryover.csv, carryover-more.csv) it is about right at
//! two degrees and twice too high at twelve, so a model's rise of `r` is planned as `r / (1 + r / R)`. R is read off those
//! rows: 10 C open or loosely covered; 20 C wrapped, of which 18 to 21 F are published for a fillet. What stands under the
//! tin hardly matters (J. Cookery Sci. Japan 44(4), 277, 2011, abstract). See ROASTING.md for each row and what is missed.

use serde::{Deserialize, Serialize};

/// What a roast rests under.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cover {
    /// Nothing: it steams off, and the crust stays crisp.
    Open,
    /// Loosely covered with foil or a lid.
    #[default]
    Tented,
    /// Wrapped tight: no steam gets away, and the centre rises the most.
    Wrapped,
}

impl Cover {
    /// Every cover.
    pub const ALL: [Cover; 3] = [Cover::Open, Cover::Tented, Cover::Wrapped];

    /// The rise that no roast comes up to, degrees.
    fn ceiling(self) -> f64 {
        match self {
            Cover::Open | Cover::Tented => 10.0,
            Cover::Wrapped => 20.0,
        }
    }

    /// The rise to plan with where the model gives `rise` degrees.
    fn planned(self, rise: f64) -> f64 {
        rise / (1.0 + rise / self.ceiling())
    }
}

/// Least and greatest rise of the band, as shares of the planned one.
const BAND: [f64; 2] = [0.6, 1.3];
/// Degrees by which the band is widened at its top: well-done roasts, seared hotter than the model assumes, rose more.
const WIDENED: f64 = 2.5;

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
pub(super) fn tempered(cover: Cover, pull_c: f64, core_c: f64) -> [f64; 2] {
    if core_c <= pull_c {
        return [core_c; 2];
    }
    let planned = cover.planned(core_c - pull_c);
    [pull_c + planned, pull_c + BAND[0] * planned]
}

impl CarryOver {
    /// From the rise that the heat model gives, degrees, and the minute of its peak.
    pub fn of_model(cover: Cover, model_rise: f64, peak_after_min: f64) -> Self {
        let rise = cover.planned(model_rise.max(0.0));
        Self { rise_c: rise, band_c: [BAND[0] * rise, BAND[1] * rise + WIDENED], peak_after_min }
    }
}

//! A feast: a menu and the kitchen it is cooked in, as plain data.

mod calendar;

use crate::faults::Sources;
use crate::kitchen::Kitchen;
use crate::menu::Menu;

pub use calendar::{Calendar, Clock, ClockError};

/// A menu and the kitchen it is cooked in: what the front door plans.
///
/// [`read::feast`](crate::read::feast) reads one from text; it may as well be built in code. Quantities are in the units of
/// the [`problem`](crate::problem): minutes, millimetres, grams and degrees Celsius.
#[derive(Clone, Debug, Default)]
pub struct Feast {
    /// Appliances, pans and cooks.
    pub kitchen: Kitchen,
    /// Guests, courses and dishes.
    pub menu: Menu,
    /// Where its parts were written; empty for data built in code.
    pub sources: Sources,
}

/// The units a reader wishes to see.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Degrees Celsius, grams, centimetres.
    #[default]
    Metric,
    /// Degrees Fahrenheit, pounds and ounces, inches.
    Customary,
}

impl Units {
    /// An air or food temperature given in whole degrees Celsius, in words: `180 C`, `350 F`.
    ///
    /// Degrees Fahrenheit are rounded to the nearest 5, as dials are marked: what was written as 350 F is kept as 177 C
    /// and shown as 350 F again.
    pub fn temperature(self, celsius: i64) -> String {
        match self {
            Units::Metric => format!("{celsius} C"),
            Units::Customary => {
                let fahrenheit = celsius as f64 * 9.0 / 5.0 + 32.0;
                format!("{} F", (fahrenheit / 5.0).round() as i64 * 5)
            }
        }
    }
}

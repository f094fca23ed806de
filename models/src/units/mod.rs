//! Quantities as a cook writes them: `175 C`, `350 F`, `1.2 kg`, `12 oz`, `30 cm`, `1 h 30 min`, `20 to 40 min`.
//!
//! Whatever is written becomes whole minutes, millimetres, grams or degrees Celsius. Conversions are exact fractions and
//! rounded once, to the nearest whole unit, halves away from zero: 350 F is 176.67 C and becomes 177.
//!
//! Definitions: the inch is 25.4 mm and the pound 453.59237 g exactly (international yard and pound agreement, 1959); a
//! degree Fahrenheit is 5/9 of a degree Celsius, and 32 F is 0 C.

mod clock;
mod measure;
mod number;
mod quantity;
mod spoken;
mod temperature;

use std::fmt;

pub use clock::{clock, date, stretch, zone};
pub use measure::{
    amount, interval, length, lengths, minutes, pan, power, rate_of_heat, size, temperature, temperatures, weight,
};
pub use quantity::{Amount, Interval, Measure, PanSize, Units};
pub use spoken::spoken_minutes;
pub use temperature::{Scale, Temperature, degree_range, degrees};

/// Why a text is not the quantity that is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum UnitError {
    /// It does not start with a number, or has something else in it.
    NotAQuantity {
        /// What cannot be read.
        found: String,
    },
    /// A number stands without a unit.
    NoUnit {
        /// The number.
        number: String,
    },
    /// The unit is not one of those that fit here.
    WrongUnit {
        /// The unit as written.
        found: String,
    },
    /// Seconds or another fraction that is finer than the planner's whole minutes.
    TooFine,
    /// The first of two numbers is greater than the second.
    UpsideDown,
    /// It is beyond what any kitchen has.
    Absurd,
    /// A clock time is not one.
    NotAClock {
        /// What cannot be read.
        found: String,
    },
    /// A date is not one.
    NotADate {
        /// What cannot be read.
        found: String,
    },
    /// There is no such time zone.
    UnknownZone {
        /// The name as written.
        found: String,
    },
}

impl fmt::Display for UnitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            UnitError::NotAQuantity { found } => write!(f, "{found:?} is not a quantity"),
            UnitError::NoUnit { number } => write!(f, "{number} has no unit"),
            UnitError::WrongUnit { found } => write!(f, "{found:?} is not a unit that fits here"),
            UnitError::TooFine => write!(f, "this is not a number of whole minutes"),
            UnitError::UpsideDown => write!(f, "the first number is greater than the second"),
            UnitError::Absurd => write!(f, "this number is absurd here"),
            UnitError::NotAClock { found } => write!(f, "{found:?} is not a clock time"),
            UnitError::NotADate { found } => write!(f, "{found:?} is not a date"),
            UnitError::UnknownZone { found } => write!(f, "there is no time zone {found:?}"),
        }
    }
}

impl std::error::Error for UnitError {}

#[cfg(test)]
mod tests;

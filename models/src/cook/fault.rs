//! What is wrong with an input of a cooking model.

use std::fmt;

use serde::Serialize;

/// One thing wrong with an input: the field, what it holds, and what would be legal.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Fault {
    /// A number outside its legal range, or not a number.
    Range {
        /// The field.
        field: &'static str,
        /// What it holds.
        value: f64,
        /// The least legal value.
        lo: f64,
        /// The greatest legal value.
        hi: f64,
        /// The unit of all three.
        unit: &'static str,
    },
    /// A field that must be given, and is not.
    Missing {
        /// The field.
        field: &'static str,
        /// What to give.
        give: &'static str,
    },
    /// A legal value that cannot go with the others.
    Unsuitable {
        /// The field.
        field: &'static str,
        /// What is wrong, and what to do.
        why: String,
    },
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fault::Range { field, value, lo, hi, unit } if value.is_finite() => {
                write!(f, "`{field}` is {value} {unit}; it must lie in {lo}..={hi} {unit}")
            }
            Fault::Range { field, lo, hi, unit, .. } => {
                write!(f, "`{field}` is not a number; it must lie in {lo}..={hi} {unit}")
            }
            Fault::Missing { field, give } => write!(f, "`{field}` is missing: {give}"),
            Fault::Unsuitable { field, why } => write!(f, "`{field}`: {why}"),
        }
    }
}

impl std::error::Error for Fault {}

/// A legal range of a named number.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Legal {
    pub(crate) field: &'static str,
    pub(crate) lo: f64,
    pub(crate) hi: f64,
    pub(crate) unit: &'static str,
}

impl Legal {
    pub(crate) const fn new(field: &'static str, lo: f64, hi: f64, unit: &'static str) -> Self {
        Self { field, lo, hi, unit }
    }

    /// Notes a fault unless the value is a number in the range.
    pub(crate) fn check(self, value: f64, faults: &mut Vec<Fault>) {
        if !(value >= self.lo && value <= self.hi) {
            faults.push(Fault::Range { field: self.field, value, lo: self.lo, hi: self.hi, unit: self.unit });
        }
    }
}

/// `Ok` when nothing is wrong, else everything that is.
pub(crate) fn none_of(faults: Vec<Fault>) -> Result<(), Vec<Fault>> {
    if faults.is_empty() { Ok(()) } else { Err(faults) }
}

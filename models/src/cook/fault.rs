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

impl Fault {
    /// The field of the model's input.
    pub fn field(&self) -> &'static str {
        match self {
            Fault::Range { field, .. } | Fault::Missing { field, .. } | Fault::Unsuitable { field, .. } => field,
        }
    }

    /// What is wrong, to be read after the name of the field, and what to give if that can be said: `is 400 kg` and
    /// `give 100 g to 20 kg`.
    pub fn said(&self) -> (String, Option<String>) {
        match self {
            Fault::Range { value, lo, hi, unit, .. } => {
                let is = if value.is_finite() { amount(*value, unit) } else { "not a number".to_owned() };
                (format!("is {is}"), Some(format!("give {} to {}", amount(*lo, unit), amount(*hi, unit))))
            }
            Fault::Missing { give, .. } => ("is missing".to_owned(), Some((*give).to_owned())),
            Fault::Unsuitable { why, .. } => (why.clone(), None),
        }
    }
}

/// A number in the unit that a cook would use: `400 kg`, `0.5 cm`.
fn amount(value: f64, unit: &str) -> String {
    match unit {
        "g" if value.abs() >= 1_000.0 => format!("{} kg", value / 1_000.0),
        "mm" => format!("{} cm", value / 10.0),
        "" => value.to_string(),
        _ => format!("{value} {unit}"),
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let field = self.field();
        match self.said() {
            (cause, Some(remedy)) => write!(f, "`{field}` {cause}: {remedy}"),
            (cause, None) => write!(f, "`{field}`: {cause}"),
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

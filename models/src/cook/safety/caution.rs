//! A caution, and shorthands for where its rule comes from.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::Topic;
use crate::cook::{Known, Source};

/// The words that go with every plan and every caution.
pub const DEFERENCE: &str =
    "These are the usual cautions. Local food codes and licensed practice come first; the thermometer decides.";

/// How much it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Good to know.
    Advice,
    /// Something to watch.
    Caution,
    /// A limit is broken: it belongs at the top of the plan.
    Breach,
}

/// One caution, with where it comes from.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Caution {
    /// What it is about.
    pub topic: Topic,
    /// How much it matters.
    pub weight: Weight,
    /// What to know and what to do.
    pub text: String,
    /// Where the rule comes from.
    pub source: Source,
}

impl Caution {
    pub(crate) fn new(topic: Topic, weight: Weight, text: impl Into<String>, source: Source) -> Self {
        Self { topic, weight, text: text.into(), source }
    }
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.text, self.source)
    }
}

/// A source that was read, or a page that quotes it.
pub(crate) const fn read(text: &'static str) -> Source {
    Source::new(text, Known::Read)
}

/// A rule of the trade.
pub(crate) const fn practice(text: &'static str) -> Source {
    Source::new(text, Known::CommonPractice)
}

/// Something remembered and not seen.
pub(crate) const fn memory(text: &'static str) -> Source {
    Source::new(text, Known::Memory)
}

/// Our own judgement.
pub(crate) const fn assumed(text: &'static str) -> Source {
    Source::new(text, Known::Assumed)
}

/// A temperature on both scales, for a caution is read whole whatever the units of a menu: `74 C (165 F)`.
pub(crate) fn both(celsius: f64) -> String {
    let places = usize::from((celsius - celsius.round()).abs() > 0.05);
    format!("{celsius:.places$} C ({:.0} F)", celsius * 1.8 + 32.0)
}

/// Two temperatures on both scales: `57 to 21 C (135 to 70 F)`.
pub(crate) fn both_ends(from_c: f64, to_c: f64) -> String {
    let fahrenheit = |celsius: f64| celsius * 1.8 + 32.0;
    format!("{from_c:.0} to {to_c:.0} C ({:.0} to {:.0} F)", fahrenheit(from_c), fahrenheit(to_c))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chart_has_both_scales() {
        // The figures of the USDA FSIS chart.
        assert_eq!([62.8, 71.1, 73.9].map(both), ["62.8 C (145 F)", "71.1 C (160 F)", "73.9 C (165 F)"]);
        assert_eq!(both(63.0), "63 C (145 F)");
        assert_eq!(both_ends(57.0, 5.0), "57 to 5 C (135 to 41 F)");
    }
}

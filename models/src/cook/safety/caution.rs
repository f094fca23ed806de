//! What a cook is told where food can hurt somebody.

use std::fmt;

use serde::Serialize;

use crate::cook::{Known, Source};

/// The words that go with every caution.
pub const DEFERENCE: &str = "Local food codes and licensed practice come first; the thermometer decides.";

/// How much it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
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
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Caution {
    /// How much it matters.
    pub weight: Weight,
    /// What to know and what to do.
    pub text: String,
    /// Where the rule comes from.
    pub source: Source,
}

impl Caution {
    pub(crate) fn new(weight: Weight, text: impl Into<String>, source: Source) -> Self {
        Self { weight, text: text.into(), source }
    }
}

impl fmt::Display for Caution {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.text, self.source)
    }
}

/// A source that was read, or a page that quotes it.
pub(crate) const fn read(text: &'static str) -> Source {
    Source { text, known: Known::Read }
}

/// A rule of the trade.
pub(crate) const fn practice(text: &'static str) -> Source {
    Source { text, known: Known::CommonPractice }
}

/// Something remembered and not seen.
pub(crate) const fn memory(text: &'static str) -> Source {
    Source { text, known: Known::Memory }
}

/// Our own judgement.
pub(crate) const fn assumed(text: &'static str) -> Source {
    Source { text, known: Known::Assumed }
}

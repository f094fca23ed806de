//! How a figure is known, and where it comes from.

use std::borrow::Cow;
use std::fmt;

use serde::{Deserialize, Serialize};

/// How the figure before you is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Known {
    /// Read in the named source, or in a page that quotes it.
    Read,
    /// Computed by us from facts that were read.
    Recomputed,
    /// A rule of the trade; no source.
    CommonPractice,
    /// Remembered, not seen: check it before relying on it.
    Memory,
    /// Our own assumption or engineering judgement.
    Assumed,
}

impl fmt::Display for Known {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Known::Read => "read",
            Known::Recomputed => "recomputed",
            Known::CommonPractice => "common practice, no source",
            Known::Memory => "from memory, not read",
            Known::Assumed => "our assumption",
        })
    }
}

/// Where a figure comes from, and how it is known.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Source {
    /// The document, table or rule.
    pub text: Cow<'static, str>,
    /// How we know it.
    pub known: Known,
}

impl Source {
    pub(crate) const fn new(text: &'static str, known: Known) -> Source {
        Source { text: Cow::Borrowed(text), known }
    }

    /// The source as it is cited on a sheet: what was read by its name, a rule of the trade as what it is, anything else with
    /// how it is known.
    pub fn cited(&self) -> String {
        match self.known {
            Known::Read => self.text.clone().into_owned(),
            Known::CommonPractice => self.known.to_string(),
            _ => self.to_string(),
        }
    }
}

impl fmt::Display for Source {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} [{}]", self.text, self.known)
    }
}

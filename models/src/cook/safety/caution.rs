//! Shorthands for where a rule comes from.

use crate::cook::{Known, Source};

pub use crate::caution::{Caution, DEFERENCE, Weight};

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

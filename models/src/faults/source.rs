//! Where the parts of a feast were written.

use std::collections::BTreeMap;

use super::{Code, Fault, Location};

/// Where something was written. Data that was built in code has none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Origin(pub(crate) Option<Spot>);

/// A stretch of one of the files a feast was read from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Spot {
    pub(crate) file: usize,
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) line: usize,
    pub(crate) column: usize,
}

/// The files a feast was read from, and where the fields of its parts stand in them. Empty for a feast built in code.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Sources {
    pub(crate) files: Vec<String>,
    pub(crate) fields: BTreeMap<(Origin, &'static str), Origin>,
}

impl Sources {
    /// Where a field of a part stands, or where the part stands if it has no such field.
    pub(crate) fn field(&self, part: Origin, field: &'static str) -> Origin {
        self.fields.get(&(part, field)).copied().unwrap_or(part)
    }

    /// An origin with the name of its file.
    pub(crate) fn locate(&self, origin: Origin) -> Option<Location> {
        let spot = origin.0?;
        let file = self.files.get(spot.file)?.clone();
        Some(Location { file, start: spot.start, end: spot.end, line: spot.line, column: spot.column })
    }

    pub(crate) fn fault(
        &self,
        code: Code,
        origin: Origin,
        cause: impl Into<String>,
        remedy: impl Into<String>,
    ) -> Fault {
        Fault { code, at: self.locate(origin), cause: cause.into(), remedy: remedy.into() }
    }
}

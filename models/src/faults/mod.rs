//! What is wrong with a kitchen or a menu: all of it at once, each with its place, its cause and a remedy.
//!
//! Codes never change their meaning. They are:
//!
#![doc = include_str!("codes.md")]

mod code;
mod source;
mod words;

use std::fmt;

use serde::{Deserialize, Serialize};

pub use code::Code;
pub(crate) use source::Spot;
pub use source::{Origin, Sources};
pub(crate) use words::{and, one_of, suggestion};

/// One fault.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fault {
    /// What sort of fault; never changes its meaning.
    pub code: Code,
    /// Where it is; absent for data that was built in code.
    pub at: Option<Location>,
    /// What is wrong, in a sentence.
    pub cause: String,
    /// What to do about it.
    pub remedy: String,
}

/// A stretch of a named text.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Location {
    /// The name of the file, as the caller gave it.
    pub file: String,
    /// First byte.
    pub start: usize,
    /// The byte after the last.
    pub end: usize,
    /// Line of the first byte, counted from 1.
    pub line: usize,
    /// Column of the first byte in characters, counted from 1.
    pub column: usize,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.code)?;
        if let Some(at) = &self.at {
            write!(f, " {}:{}:{}", at.file, at.line, at.column)?;
        }
        write!(f, ": {}; {}", self.cause, self.remedy)
    }
}

/// All faults of a feast, in the order of files and lines. Never empty.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(transparent)]
#[error("{}", .0.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))]
pub struct Faults(pub Vec<Fault>);

impl Faults {
    /// The faults.
    pub fn iter(&self) -> std::slice::Iter<'_, Fault> {
        self.0.iter()
    }

    /// Puts them in the order of files and lines.
    pub(crate) fn sorted(mut faults: Vec<Fault>) -> Faults {
        faults.sort_by_key(|fault| fault.at.as_ref().map(|at| (at.file.clone(), at.start, at.end)));
        faults.dedup();
        Faults(faults)
    }
}

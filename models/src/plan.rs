//! A plan: the mode, the start and the end of every step, and what that costs.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::problem::{Minute, Problem, Touch};

/// A complete plan of a [`Problem`]. Its serde form is the project's JSON form of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Each step by its id.
    pub steps: BTreeMap<String, PlannedStep>,
    /// The actual minute of serving of each course by its id. Where one is absent it is the least that sinks, `serve` and
    /// `after` allow.
    #[serde(default)]
    pub served: BTreeMap<String, Minute>,
    /// Who does what, where cooks are named: one entry for each piece of work. Of no meaning where hands are counted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hands: Vec<Hands>,
    /// First goal: the sum over courses of weight times slip.
    pub lateness: i64,
    /// Second goal: what the waiting of food and the choice of modes cost.
    pub waiting: i64,
    /// Third goal: minutes for which cavities are kept hot.
    pub hot: i64,
    /// Lower bounds on lateness, waiting and hot minutes. A bound on a later goal holds among plans that are no worse than
    /// this one in all goals before it.
    pub bounds: [i64; 3],
    /// Whether the plan is proved best.
    pub status: Status,
    /// The [`fingerprint`](crate::problem::Problem::fingerprint) of the problem it was made for; absent where nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub made_for: Option<String>,
}

impl Plan {
    /// Whether it was made for another problem than this one, or for this one before it was changed.
    pub fn is_of_another(&self, problem: &Problem) -> bool {
        self.made_for.as_ref().is_some_and(|own| *own != problem.fingerprint())
    }
}

/// What is known of a plan's quality.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Status {
    /// Proved best in all three goals.
    Optimal,
    /// Valid; the bounds say how far off it may be.
    Feasible,
}

/// The choice made for one step: `[start, end)` in the mode with this index.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlannedStep {
    /// Index into the step's `modes`.
    pub mode: usize,
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
    /// When each touch of the mode is begun, in minutes after the start. If absent, each at its `at`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub touches: Vec<Minute>,
}

impl PlannedStep {
    /// A choice with each touch at its `at`.
    pub fn new(mode: usize, start: Minute, end: Minute) -> Self {
        PlannedStep { mode, start, end, touches: Vec::new() }
    }

    /// When a touch is begun, in minutes after the start.
    pub fn touched(&self, index: usize, touch: &Touch) -> Minute {
        self.touches.get(index).copied().unwrap_or(touch.at)
    }
}

/// The cooks who do a piece of work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hands {
    /// The step it belongs to.
    pub step: String,
    /// Which piece of it.
    pub piece: Piece,
    /// As many different cooks as it needs hands, by their ids.
    pub cooks: Vec<String>,
}

/// A piece of work of a step. In JSON a word: `"whole"`, `"load"`, `"unload"`, `"touch 0"`, `"touch 1"`, ...
///
/// ```
/// use rangewright_models::plan::Piece;
/// assert_eq!("touch 1".parse(), Ok(Piece::Touch(1)));
/// assert_eq!(Piece::Whole.to_string(), "whole");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub enum Piece {
    /// From start to end.
    Whole,
    /// Putting in.
    Load,
    /// Taking out.
    Unload,
    /// The touch with this index.
    Touch(usize),
}

impl fmt::Display for Piece {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Piece::Whole => f.write_str("whole"),
            Piece::Load => f.write_str("load"),
            Piece::Unload => f.write_str("unload"),
            Piece::Touch(index) => write!(f, "touch {index}"),
        }
    }
}

impl FromStr for Piece {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let unknown =
            || format!("{text:?} is no piece of work: write whole, load, unload, or touch with its number from 0");
        match text {
            "whole" => Ok(Piece::Whole),
            "load" => Ok(Piece::Load),
            "unload" => Ok(Piece::Unload),
            _ => {
                let index = text.strip_prefix("touch ").and_then(|index| index.parse().ok());
                index.map(Piece::Touch).ok_or_else(unknown)
            }
        }
    }
}

impl TryFrom<String> for Piece {
    type Error = String;

    fn try_from(text: String) -> Result<Self, String> {
        text.parse()
    }
}

impl From<Piece> for String {
    fn from(piece: Piece) -> String {
        piece.to_string()
    }
}

//! Cautions: where food or heat can hurt somebody, what to do, and who says so.
//!
//! A step carries the cautions that apply to it wherever it is done, a mode those of that way, and a plan adds what follows
//! from what is done beside what. Limits differ from place to place: the kitchen says which
//! [`Region`](crate::cook::safety::Region) it lies in. None of this replaces a food code: [`DEFERENCE`] goes with every plan.

mod apply;
mod plan;
mod standing;
mod topic;
mod usual;

use std::fmt;

use serde::Serialize;

use crate::cook::Source;

pub(crate) use apply::{Nature, heats, of};
pub use plan::{PlanCaution, of_plan};
pub use standing::Standing;
pub use topic::Topic;
pub use usual::usual;

/// The words that go with every plan and every caution.
pub const DEFERENCE: &str =
    "These are the usual cautions. Local food codes and licensed practice come first; the thermometer decides.";

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
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
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

//! Everything that makes a problem meaningless, named all at once.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::Problem;

/// One thing wrong with a problem.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ProblemFault {
    /// Where, in the words of the JSON form: `steps[3] "roast" modes[0]`.
    pub at: String,
    /// What is wrong.
    pub what: FaultKind,
}

/// What can be wrong with a problem.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FaultKind {
    /// The links close a circle.
    CyclicLinks,
}

impl fmt::Display for ProblemFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {:?}", self.at, self.what)
    }
}

impl Problem {
    /// Names every fault; empty if the problem makes sense.
    pub fn faults(&self) -> Vec<ProblemFault> {
        Vec::new()
    }
}

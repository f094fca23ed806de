//! A plan: the mode, the start and the end of every step, and what that costs.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::problem::Minute;

/// A complete plan of a [`Problem`](crate::problem::Problem). Its serde form is the project's JSON form of a plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Each step by its id.
    pub steps: BTreeMap<String, PlannedStep>,
    /// The actual minute of serving of each course by its id. Where one is absent it is the least that sinks, `serve` and
    /// `after` allow.
    #[serde(default)]
    pub served: BTreeMap<String, Minute>,
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
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlannedStep {
    /// Index into the step's `modes`.
    pub mode: usize,
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
}

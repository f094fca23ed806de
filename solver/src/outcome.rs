//! What a search answers.

use std::fmt;

use rangewright_models::plan::{Plan, Status};
use serde::{Deserialize, Serialize};

/// The answer of a search. An impossible menu is an answer, not an error.
///
/// What is planned is a bare [`Planned`] for a problem, a [`FeastPlan`](crate::FeastPlan) for a feast.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Outcome<P = Planned> {
    /// There is a plan; it has passed the checker.
    Planned(P),
    /// It is proved that there is none.
    Impossible(Conflict),
    /// A limit was reached before either was known.
    Undecided(Progress),
}

impl<P> Outcome<P> {
    /// The same answer with something else made of the plan.
    pub fn map<Q>(self, of: impl FnOnce(P) -> Q) -> Outcome<Q> {
        match self {
            Outcome::Planned(planned) => Outcome::Planned(of(planned)),
            Outcome::Impossible(conflict) => Outcome::Impossible(conflict),
            Outcome::Undecided(progress) => Outcome::Undecided(progress),
        }
    }
}

impl<P, E> Outcome<Result<P, E>> {
    /// The answer, if what was made of the plan did not fail.
    ///
    /// # Errors
    /// What it failed with.
    pub fn transpose(self) -> Result<Outcome<P>, E> {
        Ok(match self {
            Outcome::Planned(planned) => Outcome::Planned(planned?),
            Outcome::Impossible(conflict) => Outcome::Impossible(conflict),
            Outcome::Undecided(progress) => Outcome::Undecided(progress),
        })
    }
}

/// A checked plan, and why the search went no further.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Planned {
    /// The best plan found. Its status and bounds say how good it is.
    pub plan: Plan,
    /// Why the search ended.
    pub stopped_by: StopReason,
    /// Units of work spent.
    pub work: u64,
}

impl Planned {
    /// How good the plan is known to be.
    pub fn proof(&self) -> Proof {
        let plan = &self.plan;
        Proof { goals: [plan.lateness, plan.waiting, plan.hot], bounds: plan.bounds, stopped_by: self.stopped_by }
    }
}

impl From<Plan> for Planned {
    /// A stored plan does not say why its search ended: it counts as proved if it is best, else as stopped at a limit.
    fn from(plan: Plan) -> Planned {
        let stopped_by = if plan.status == Status::Optimal { StopReason::Proof } else { StopReason::Work };
        Planned { plan, stopped_by, work: 0 }
    }
}

/// How good a plan is known to be.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Proof {
    /// What the plan comes to: lateness, waiting of food, hot minutes.
    pub goals: [i64; 3],
    /// What no plan can beat. One on a later goal holds among plans that are no worse in the goals before it.
    pub bounds: [i64; 3],
    /// Why the search ended.
    pub stopped_by: StopReason,
}

impl Proof {
    /// How many of the three goals are proved, in their order: 3 says that no plan is better at all.
    pub fn proved(&self) -> usize {
        self.goals.iter().zip(&self.bounds).take_while(|(goal, bound)| goal <= bound).count()
    }

    /// Whether it is proved that no plan is better.
    pub fn is_best(&self) -> bool {
        self.proved() == 3
    }
}

/// Why a search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum StopReason {
    /// Nothing is left to be found.
    Proof,
    /// The gap asked for was reached.
    Gap,
    /// The work limit was reached.
    Work,
    /// The caller's `stop` said so.
    Stop,
    /// All was searched, but whether some pans fit together could not be decided, and nothing is claimed that rests on it.
    Packing,
}

/// Where a search stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Progress {
    /// Lateness, waiting and hot minutes of the best plan so far; absent while there is none.
    pub best: Option<[i64; 3]>,
    /// Lower bounds so far. One on a later goal holds among plans that are as good as `best` in the goals before it.
    pub bounds: [i64; 3],
    /// Units of work spent.
    pub work: u64,
    /// Why the search ended; absent while it goes on.
    pub stopped_by: Option<StopReason>,
}

/// Why there is no plan.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Conflict {
    /// Facts that cannot all hold.
    pub reasons: Vec<Reason>,
}

/// One fact of a conflict.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Reason {
    /// No appliance can do this step: not one of its modes is legal.
    NoMode {
        /// The id of the step.
        step: String,
    },
    /// These steps, with the gaps between them and the times they are held to, need more minutes than there are.
    NoTime {
        /// The ids of the steps, in order along the chain.
        steps: Vec<String>,
    },
    /// Each step alone is possible; all of them together were searched through and are not.
    Exhausted,
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Reason::NoMode { step } => write!(f, "no appliance can do \"{step}\""),
            Reason::NoTime { steps } => {
                write!(
                    f,
                    "there are not enough minutes for \"{}\" between the times they are held to",
                    steps.join("\", \"")
                )
            }
            Reason::Exhausted => {
                write!(
                    f,
                    "each step alone is possible, but all of them together do not fit the places, hands and times"
                )
            }
        }
    }
}

//! What keeps a search from starting.

use rangewright_models::check::Violation;
use rangewright_models::day::DayFault;
use rangewright_models::faults::Faults;
use rangewright_models::problem::{Named, ProblemFault};

/// Bad input, or a defect of ours. An impossible menu is not an error but an [`Outcome`](crate::Outcome).
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// The menu or the kitchen does not make sense; every fault is named.
    #[error("{0}")]
    Feast(Faults),
    /// The problem does not make sense; every fault is named.
    #[error("the problem is refused: {}", join(.0))]
    Refused(Vec<ProblemFault>),
    /// The plan to start from is not a plan of this problem.
    #[error("the plan to start from is not valid: {}", join(.0))]
    Start(Vec<Violation>),
    /// Entries of the log of the day cannot be true of the plan.
    #[error("{}", join(.0))]
    Log(Vec<DayFault>),
    /// A plan that was handed in has not the form of a plan of this problem: it may lack steps and break rules, but must
    /// name none that are not there, nor ways or minutes that cannot be.
    #[error("this is no plan of this menu: {}", join(.0))]
    Plan(Vec<Violation>),
    /// A plan that was handed in was made for another problem, or for this one before it was changed: what it calls the
    /// second way of a step may be another way now.
    #[error("the plan was made for another menu, or the menu or its kitchen has been changed since: plan anew")]
    Changed,
    /// Where the day stands, as it was handed in, cannot be.
    #[error("the day cannot stand so: {0}")]
    Day(String),
    /// A question is about something that the problem has not.
    #[error("there is no {named} with the id {id:?}")]
    Unknown {
        /// What it should be.
        named: Named,
        /// Its id.
        id: String,
    },
    /// A limit lies outside its legal range.
    #[error("limit `{field}`: {problem}")]
    Limit {
        /// Which field of [`Limits`](crate::Limits).
        field: &'static str,
        /// What is wrong, and what would be right.
        problem: String,
    },
    /// The search made a plan that the checker does not accept. The plan is withheld.
    #[error("internal: the checker does not accept the plan found: {}", join(.0))]
    Internal(Vec<Violation>),
}

fn join<T: ToString>(items: &[T]) -> String {
    items.iter().map(ToString::to_string).collect::<Vec<_>>().join("; ")
}

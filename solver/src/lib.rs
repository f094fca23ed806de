#![doc = include_str!("guide.md")]

pub mod ask;
mod assignment;
mod board;
pub mod calm;
pub mod change;
mod error;
mod exchange;
mod instance;
mod learn;
mod limits;
mod local;
pub mod margins;
pub mod mend;
pub mod odds;
mod order;
pub mod outcome;
mod planner;
mod portfolio;
mod price;
mod probe;
mod program;
pub mod replan;
mod search;
mod simplex;
pub mod slack;
pub mod spare;
mod tidy;
mod unfold;
pub mod why;
mod workload;

pub use error::Error;
pub use limits::Limits;
pub use outcome::{Conflict, Outcome, Planned, Progress, StopReason};
pub use planner::{FeastPlan, Planner, plan};
pub use rangewright_models as models;
pub use search::solve;

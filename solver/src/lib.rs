//! Rangewright plans a feast in a kitchen that is too small for it.

mod error;
mod limits;
mod outcome;
mod search;

pub use error::Error;
pub use limits::Limits;
pub use outcome::{Conflict, Outcome, Planned, Progress, Reason, StopReason};
pub use rangewright_models as models;
pub use search::solve;

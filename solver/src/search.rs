//! The front door for a bare problem.

use rangewright_models::problem::Problem;

use crate::{Error, Limits, Outcome, Progress};

/// Plans a problem.
///
/// # Errors
/// [`Error::Refused`] names every fault of the problem; see the other variants of [`Error`].
pub fn solve(problem: &Problem, limits: &Limits<'_>) -> Result<Outcome, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    let _ = limits;
    Ok(Outcome::Undecided(Progress { best: None, bounds: [0; 3], work: 0, stopped_by: None }))
}

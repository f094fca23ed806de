//! Ovens that somebody has to light, where the cooks come and go.

use crate::oven::absences;
use crate::problem::{Place, Problem};

/// Nobody turns a dial before the first cook comes, nor lights an oven again while all are away. Where somebody is always
/// there it makes no difference, and is not said.
pub(super) fn mind(problem: &mut Problem) {
    let attended: Vec<bool> = problem
        .places
        .iter()
        .map(|place| matches!(place, Place::Cavity(cavity) if !absences(problem, cavity).is_empty()))
        .collect();
    for (place, attended) in problem.places.iter_mut().zip(attended) {
        if let Place::Cavity(cavity) = place {
            cavity.attended = attended;
        }
    }
}

//! What all rules that look at many variables have in common.

use super::literal::Side;
use super::trail::{Conflict, Trail};

/// A rule that tightens bounds. It keeps no state of its own about the search: everything is read off the trail.
pub(super) trait Propagator {
    /// The sides whose rise may let it find something.
    fn sides(&self) -> Vec<Side>;

    /// Cheaper rules run first: 0 before 1 before 2.
    fn rank(&self) -> usize;

    /// Tightens what it can, or finds a conflict. Every change notes facts that imply it.
    fn propagate(&mut self, trail: &mut Trail) -> Result<(), Conflict>;
}

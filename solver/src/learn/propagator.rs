//! What all rules that look at many variables have in common.

use super::literal::{Lit, Side};
use super::trail::{Conflict, Past, Trail};

/// A rule that tightens bounds. It keeps no state of its own about the search: everything is read off the trail.
pub(super) trait Propagator {
    /// The sides whose rise may let it find something.
    fn sides(&self) -> Vec<Side>;

    /// Cheaper rules run first: 0 before 1 before 2.
    fn rank(&self) -> usize;

    /// Tightens what it can, or finds a conflict. Every change notes facts that imply it, or has the reason
    /// [`Reason::Rule`](super::trail::Reason::Rule) with this number.
    fn propagate(&mut self, trail: &mut Trail, rule: u32) -> Result<(), Conflict>;

    /// Facts that held at a past moment and imply `lit`, which this rule made true then with the remark `what`.
    fn explain(&self, past: &Past<'_>, lit: Lit, what: u32, why: &mut Vec<Lit>) {
        debug_assert!(false, "{lit:?} {what}: no rule to explain {}", past.entry);
        why.clear();
    }
}

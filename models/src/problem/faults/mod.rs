//! Everything that makes a problem meaningless, named all at once.

mod graph;
mod kind;
mod names;
mod numbers;
mod rules;
mod spot;

use super::Problem;

pub use kind::{FaultKind, Named, ProblemFault};
use names::Names;
use spot::Spot;

impl Problem {
    /// Names every fault; empty if the problem makes sense.
    ///
    /// Any numbers are taken, legal or not: a rule that compares numbers looks only at those that are in range, so that
    /// one slip of the pen is named once.
    ///
    /// ```
    /// use rangewright_models::problem::{FaultKind, Problem, Shift};
    /// # let mut problem: Problem = serde_json::from_str(r#"{"name": "", "opening": 0, "shifts": [], "pools": {},
    /// #     "places": [], "dishes": [], "courses": [], "steps": [], "links": []}"#)?;
    /// problem.shifts.push(Shift { start: 600, end: 60, hands: 1 });
    /// let faults = problem.faults();
    /// assert_eq!(faults[0].at, "shifts[0]");
    /// assert_eq!(faults[0].what, FaultKind::UpsideDown { low: 600, high: 60 });
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn faults(&self) -> Vec<ProblemFault> {
        let mut faults = Faults::default();
        let names = Names::new(self, &mut faults);
        numbers::check(self, &mut faults);
        rules::check(self, &names, &mut faults);
        graph::check(self, &names, &mut faults);
        faults.found
    }
}

/// What has been found so far.
#[derive(Default)]
struct Faults {
    found: Vec<ProblemFault>,
}

impl Faults {
    fn add(&mut self, spot: Spot<'_>, what: FaultKind) {
        self.found.push(ProblemFault { at: spot.to_string(), what });
    }
}

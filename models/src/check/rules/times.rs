//! Each step takes as long as its mode allows, and lies within its times and after the opening.

use crate::check::facts::Facts;
use crate::check::violation::Violation;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let opening = facts.problem.opening;
    for run in &facts.runs {
        let (min, max, minutes) = (run.mode.min, run.mode.max, run.end - run.start);
        if !(min..=max).contains(&minutes) {
            violations.push(Violation::Duration { step: run.id(), minutes, min, max });
        }
        if run.start < opening {
            violations.push(Violation::BeforeOpening { step: run.id(), start: run.start, opening });
        }
        if let Some(earliest) = run.step.earliest.filter(|&earliest| run.start < earliest) {
            violations.push(Violation::TooEarly { step: run.id(), start: run.start, earliest });
        }
        if let Some(latest) = run.step.latest.filter(|&latest| run.end > latest) {
            violations.push(Violation::TooLate { step: run.id(), end: run.end, latest });
        }
    }
}

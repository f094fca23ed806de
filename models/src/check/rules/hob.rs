//! One pan on each burner.

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::problem::{Minute, Place};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for (i, place) in facts.problem.places.iter().enumerate() {
        let Place::Hob(hob) = place else { continue };
        let runs = facts.runs_in(i);
        let intervals: Vec<[Minute; 2]> = runs.iter().map(|run| [run.start, run.end]).collect();
        let clashes = super::sweep::clashes(&intervals, |running| (running.len() as i64 > hob.count).then_some(()));
        for (minute, running, ()) in clashes {
            let steps = super::ids(running.iter().map(|&run| &runs[run]));
            violations.push(Violation::Hob { place: hob.id.clone(), minute, count: hob.count, steps });
        }
    }
}

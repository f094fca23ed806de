//! A door that must stay shut is not opened for another step.

use crate::check::facts::Facts;
use crate::check::violation::{Opening, Violation};
use crate::problem::Minute;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for (cavity, runs) in facts.cavities() {
        let mut openings: Vec<(Minute, usize, Opening)> = Vec::new();
        for (i, run) in runs.iter().enumerate() {
            openings.push((run.start, i, Opening::Start));
            openings.push((run.end, i, Opening::End));
            openings.extend(run.touches().map(|(_, _, begun)| (begun, i, Opening::Touch)));
        }
        openings.sort_unstable();
        for (i, run) in runs.iter().enumerate().filter(|(_, run)| run.mode.shut > 0) {
            let after_start = openings.partition_point(|&(minute, ..)| minute <= run.start);
            let until = run.start + run.mode.shut;
            let inside = openings[after_start..].iter().take_while(|&&(minute, ..)| minute < until);
            if let Some(&(minute, other, what)) = inside.into_iter().find(|&&(_, other, _)| other != i) {
                let (place, shut, opened) = (cavity.id.clone(), run.id(), runs[other].id());
                violations.push(Violation::DoorOpened { place, shut, opened, what, minute });
            }
        }
    }
}

//! What is in a cavity at the same minute can bear the same air.

use crate::check::facts::{Facts, Run};
use crate::check::violation::{AirClash, Violation};
use crate::problem::Mode;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for (cavity, runs) in facts.cavities() {
        let mut inside: Vec<&Run<'_>> = Vec::new();
        for run in runs.iter().filter(|run| run.start < run.end) {
            inside.retain(|other| other.end > run.start);
            for clash in [AirClash::Temperature, AirClash::Heat, AirClash::Moisture] {
                if let Some(other) = inside.iter().find(|other| clashes(other.mode, run.mode, clash)) {
                    let (place, minute) = (cavity.id.clone(), run.start);
                    violations.push(Violation::Air { place, minute, first: other.id(), second: run.id(), clash });
                }
            }
            inside.push(run);
        }
    }
}

fn clashes(a: &Mode, b: &Mode, clash: AirClash) -> bool {
    match clash {
        AirClash::Temperature => match (a.t, b.t) {
            (Some(a), Some(b)) => a[0].max(b[0]) > a[1].min(b[1]),
            _ => false,
        },
        AirClash::Heat => a.heat != b.heat,
        AirClash::Moisture => (a.wet && b.dry) || (a.dry && b.wet),
    }
}

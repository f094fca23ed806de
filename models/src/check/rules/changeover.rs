//! A cavity has the time to change its temperature, from the opening on.
//!
//! Worked out here anew on purpose, not asked of [`oven`](crate::oven): the checker shares no code with what it checks.

use std::collections::BTreeSet;

use crate::check::facts::{Facts, Run};
use crate::check::violation::Violation;
use crate::problem::{Cavity, Minute};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let links = facts.problem.links.iter().filter(|link| link.stay);
    let stays: BTreeSet<(&str, &str)> = links.map(|link| (link.from.as_str(), link.to.as_str())).collect();
    for (cavity, runs) in facts.cavities() {
        let at_opening = [cavity.t_open; 2];
        // Nothing takes longer than from the coldest to the hottest window there is.
        let longest = cavity.settle + minutes(640, cavity.rise.min(cavity.fall));
        let mut recent: Vec<&Run<'_>> = Vec::new();
        for run in &runs {
            let Some(window) = run.mode.t else { continue };
            let report = |from: Option<String>, minutes, needed| Violation::Changeover {
                place: cavity.id.clone(),
                from,
                to: run.id(),
                minutes,
                needed,
            };
            let since_opening = run.start - facts.problem.opening;
            if let Some(needed) = changeover(cavity, at_opening, window).filter(|&needed| since_opening < needed) {
                violations.push(report(None, since_opening, needed));
            }
            recent.retain(|other| other.end + longest > run.start);
            // Those that overlap are a matter of the air, not of time in between.
            let before = recent.iter().filter(|other| {
                other.end <= run.start && !stays.contains(&(other.step.id.as_str(), run.step.id.as_str()))
            });
            let short = before.filter_map(|other| {
                let needed = changeover(cavity, other.mode.t?, window)?;
                let minutes = run.start - other.end;
                (minutes < needed).then_some((needed - minutes, other, minutes, needed))
            });
            if let Some((_, other, minutes, needed)) = short.max_by_key(|&(missing, ..)| missing) {
                violations.push(report(Some(other.id()), minutes, needed));
            }
            recent.push(run);
        }
    }
}

/// Minutes from one window to another; none if they meet.
fn changeover(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> Option<Minute> {
    if from[1] < to[0] {
        Some(cavity.settle + minutes(to[0] - from[1], cavity.rise))
    } else if to[1] < from[0] {
        Some(cavity.settle + minutes(from[0] - to[1], cavity.fall))
    } else {
        None
    }
}

/// `ceil(10 * degrees / rate)`.
fn minutes(degrees: i64, rate: i64) -> Minute {
    (10 * degrees + rate - 1) / rate
}

//! An oven that somebody has to light is not hot before somebody is back, and it has had its minutes.

use std::collections::BTreeSet;

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::problem::{Cavity, Minute, Problem};

/// The air of a kitchen, degrees C: what an oven falls to that is out.
const KITCHEN: i64 = 20;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let links = facts.problem.links.iter().filter(|link| link.stay);
    let stayed: BTreeSet<&str> = links.map(|link| link.to.as_str()).collect();
    for (cavity, runs) in facts.cavities().filter(|(cavity, _)| cavity.attended) {
        let out = absences(facts.problem, cavity);
        for run in &runs {
            let Some(low) = run.mode.t.map(|window| window[0].max(cavity.t_min)).filter(|&low| low > KITCHEN) else {
                continue;
            };
            let rise = cavity.rise.max(1);
            let needed = match stayed.contains(run.step.id.as_str()) {
                true => 0,
                false => cavity.settle + (10 * (low - KITCHEN) + rise - 1) / rise,
            };
            for &[left, back] in &out {
                if left < run.start && run.start < back + needed {
                    let (place, step) = (cavity.id.clone(), run.id());
                    violations.push(Violation::Unlit { place, step, start: run.start, back, needed });
                }
            }
        }
    }
}

/// From when to when nobody is there, for so long that the oven is out by then.
fn absences(problem: &Problem, cavity: &Cavity) -> Vec<[Minute; 2]> {
    let mut there: Vec<[Minute; 2]> = problem.shifts.iter().filter(|s| s.hands > 0).map(|s| [s.start, s.end]).collect();
    there.extend(problem.cooks.iter().flat_map(|cook| &cook.shifts).map(|hours| [hours.start, hours.end]));
    there.sort_unstable();
    let mut out = Vec::new();
    let mut left = there.first().map(|first| first[0]);
    if let Some(first) = left.filter(|&first| problem.opening < first && cavity.t_open <= KITCHEN) {
        out.push([problem.opening - 1, first]);
    }
    for [start, end] in there {
        if let Some(left) = left.filter(|left| start - left > cavity.cool_off) {
            out.push([left, start]);
        }
        left = left.map(|left| left.max(end));
    }
    out
}

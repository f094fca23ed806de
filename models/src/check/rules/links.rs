//! Gaps between linked steps; a pan that stays in stays where it is.

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::problem::Place;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for link in &facts.problem.links {
        let (from, to) = (facts.run(&link.from), facts.run(&link.to));
        let gap = to.start - from.end;
        if gap < link.min || link.max.is_some_and(|max| gap > max) {
            violations.push(Violation::Gap { from: from.id(), to: to.id(), gap, min: link.min, max: link.max });
        }
        let is_cavity = |place: usize| matches!(facts.problem.places[place], Place::Cavity(_));
        if link.stay && (from.place != to.place || !from.place.is_some_and(is_cavity)) {
            violations.push(Violation::StayApart { from: from.id(), to: to.id() });
        }
    }
}

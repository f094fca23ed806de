//! Ovens that somebody has to light: for each heat a resource of which there is none until the oven can be hot again.
//!
//! What begins takes one of it for its first minute. So every engine knows the rule as it knows any scarce thing.

use std::collections::BTreeMap;

use rangewright_models::oven::{ROOM, absences, minutes_between};
use rangewright_models::problem::{self, Cavity, Minute, Place, Problem};

use super::lower::time;
use super::{During, Need, Profile, Resource, Time};

/// More than can begin at one minute.
const MANY: i64 = 1_000_000;

/// Which resource stands for the heat of a cavity: by its place, and the minutes it takes.
pub(super) struct Minded {
    numbers: BTreeMap<(usize, Minute), usize>,
}

impl Minded {
    /// The first of its resources gets this index.
    pub(super) fn new(problem: &Problem, first: usize) -> (Self, Vec<Resource>) {
        let (mut minded, mut resources) = (Minded { numbers: BTreeMap::new() }, Vec::new());
        for (index, place) in problem.places.iter().enumerate() {
            let Place::Cavity(cavity) = place else { continue };
            let absences = absences(problem, cavity);
            if !cavity.attended || absences.is_empty() {
                continue;
            }
            for step in &problem.steps {
                let stays = stays(problem, step);
                for mode in step.modes.iter().filter(|mode| mode.place.as_ref() == Some(&cavity.id)) {
                    let Some(heat) = heat(cavity, mode, stays) else { continue };
                    if let std::collections::btree_map::Entry::Vacant(vacant) = minded.numbers.entry((index, heat)) {
                        vacant.insert(first + resources.len());
                        resources.push(Resource { capacity: lit(&absences, heat) });
                    }
                }
            }
        }
        (minded, resources)
    }

    /// What a mode needs of them.
    pub(super) fn need(
        &self,
        problem: &Problem,
        place: Option<usize>,
        step: &problem::Step,
        mode: &problem::Mode,
    ) -> Option<Need> {
        let place = place?;
        let Place::Cavity(cavity) = &problem.places[place] else { return None };
        let heat = heat(cavity, mode, stays(problem, step))?;
        let resource = *self.numbers.get(&(place, heat))?;
        Some(Need { resource, during: During::FromStart { offset: 0, minutes: 1 }, amount: 1 })
    }
}

fn stays(problem: &Problem, step: &problem::Step) -> bool {
    problem.links.iter().any(|link| link.stay && link.to == step.id)
}

/// Minutes until a cold cavity has what a mode needs; none if it needs no heat.
fn heat(cavity: &Cavity, mode: &problem::Mode, stays: bool) -> Option<Minute> {
    let low = mode.t?[0].max(cavity.t_min);
    let cold = if stays { 0 } else { cavity.settle + minutes_between(cavity, 10 * ROOM, 10 * low) };
    (low > ROOM).then_some(cold)
}

/// Nothing strictly after somebody has left until so many minutes after somebody is back.
fn lit(absences: &[[Minute; 2]], heat: Minute) -> Profile {
    let mut from = Time::MIN;
    let mut lit = Vec::new();
    for &[left, back] in absences {
        lit.push((from, time(left + 1), MANY));
        from = from.max(time(back + heat));
    }
    lit.push((from, Time::MAX, MANY));
    Profile::of_shifts(lit)
}

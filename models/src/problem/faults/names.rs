//! Ids: empty ones, duplicate ones, and which index each one names.

use std::collections::BTreeMap;

use crate::problem::{Problem, faults::kind::FaultKind};

use super::{Faults, Spot};

/// The index of everything that has an id. Of duplicates the first one counts.
pub(super) struct Names<'a> {
    pub(super) places: BTreeMap<&'a str, usize>,
    pub(super) dishes: BTreeMap<&'a str, usize>,
    pub(super) courses: BTreeMap<&'a str, usize>,
    pub(super) steps: BTreeMap<&'a str, usize>,
    pub(super) cooks: BTreeMap<&'a str, usize>,
}

impl<'a> Names<'a> {
    pub(super) fn new(problem: &'a Problem, faults: &mut Faults) -> Self {
        for id in problem.pools.keys().filter(|id| id.is_empty()) {
            faults.add(Spot::key("pools", id), FaultKind::EmptyId);
        }
        Names {
            places: index("places", problem.places.iter().map(|place| place.id()), faults),
            dishes: index("dishes", problem.dishes.iter().map(|dish| dish.id.as_str()), faults),
            courses: index("courses", problem.courses.iter().map(|course| course.id.as_str()), faults),
            steps: index("steps", problem.steps.iter().map(|step| step.id.as_str()), faults),
            cooks: index("cooks", problem.cooks.iter().map(|cook| cook.id.as_str()), faults),
        }
    }
}

fn index<'a>(list: &'static str, ids: impl Iterator<Item = &'a str>, faults: &mut Faults) -> BTreeMap<&'a str, usize> {
    let mut indices = BTreeMap::new();
    for (i, id) in ids.enumerate() {
        if id.is_empty() {
            faults.add(Spot::entry(list, i), FaultKind::EmptyId);
        } else if let Some(&first) = indices.get(id) {
            let first = Spot::entry(list, first).to_string();
            faults.add(Spot::named(list, i, id), FaultKind::DuplicateId { first });
        } else {
            indices.insert(id, i);
        }
    }
    indices
}

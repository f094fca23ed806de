//! Lanes: the parts of a feast that links hold together, each planned by dynamic programming.
//!
//! A component is a dish, or several dishes tied by links. It must be a tree that runs together towards its one sink: each step
//! is followed by at most one other. Lanes of another shape are left to the other engines.

use super::slide::Reach;
use crate::instance::{Instance, Time};

/// The steps of a component in an order that agrees with its links; the sink comes last.
#[derive(Clone, Debug)]
pub(super) struct Component {
    pub(super) steps: Vec<usize>,
    /// For each of the steps, the places in `steps` of those directly before it.
    pub(super) before: Vec<Vec<usize>>,
}

/// The components of an instance; none if one of them is no such tree.
pub(super) fn components(instance: &Instance<'_>) -> Option<Vec<Component>> {
    let count = instance.steps.len();
    let mut group: Vec<usize> = (0..count).collect();
    for link in &instance.links {
        let (a, b) = (root(&mut group, link.from), root(&mut group, link.to));
        group[a.max(b)] = a.min(b);
    }
    let mut components: Vec<Component> = Vec::new();
    let mut component_of = vec![usize::MAX; count];
    let mut index_of = vec![0; count];
    for &step in &instance.order {
        let group = root(&mut group, step);
        if component_of[group] == usize::MAX {
            component_of[group] = components.len();
            components.push(Component { steps: Vec::new(), before: Vec::new() });
        }
        let component = &mut components[component_of[group]];
        index_of[step] = component.steps.len();
        let mut before: Vec<usize> =
            instance.steps[step].before.iter().map(|&link| index_of[instance.links[link].from]).collect();
        before.sort_unstable();
        before.dedup();
        component.before.push(before);
        component.steps.push(step);
    }
    let is_tree = |component: &Component| {
        let mut followed = vec![0; component.steps.len()];
        for &earlier in component.before.iter().flatten() {
            followed[earlier] += 1;
        }
        // Only the last is followed by none.
        followed.iter().rev().skip(1).all(|&times| times == 1) && followed.last() == Some(&0)
    };
    components.iter().all(is_tree).then_some(components)
}

fn root(group: &mut [usize], mut index: usize) -> usize {
    while group[index] != index {
        group[index] = group[group[index]];
        index = group[index];
    }
    index
}

/// What lies between two modes of steps that are linked; none if one cannot follow the other.
///
/// Several links between the same steps count together in the reach; their waits are added up by the caller.
pub(super) fn gap(instance: &Instance<'_>, from: (usize, usize), to: (usize, usize)) -> Option<Reach> {
    let (first, second) = (&instance.steps[from.0].modes[from.1], &instance.steps[to.0].modes[to.1]);
    let mut found: Option<Reach> = None;
    for link in instance.steps[from.0].after.iter().map(|&link| &instance.links[link]).filter(|link| link.to == to.0) {
        if link.stay && first.place != second.place {
            return None;
        }
        found = Some(Reach { min: link.min, max: link.max, base: link.min, rate: link.wait });
    }
    let mut reach = found?;
    if let (Some(place), Some(a), Some(b)) = (first.place, first.occupant, second.occupant)
        && second.place == Some(place)
        && let Some(separation) = instance.places[place].separation(a, b)
        && reach.min >= -first.min
    {
        // The later step starts no earlier than the other, so it comes after it.
        reach.min = reach.min.max(separation.forth);
    }
    (reach.min <= reach.max).then_some(reach)
}

/// Whether two steps are joined by more than one link; the dynamic program then does not apply.
pub(super) fn has_parallel_links(instance: &Instance<'_>) -> bool {
    let mut pairs: Vec<(usize, usize)> = instance.links.iter().map(|link| (link.from, link.to)).collect();
    pairs.sort_unstable();
    pairs.windows(2).any(|pair| pair[0] == pair[1])
}

/// The least and the most minutes over all modes of a step.
pub(super) fn lengths(instance: &Instance<'_>, step: usize) -> (Time, Time) {
    let modes = &instance.steps[step].modes;
    let min = modes.iter().map(|mode| mode.min).min().unwrap_or(0);
    (min, modes.iter().map(|mode| mode.max).max().unwrap_or(0))
}

//! What is taken out and put back as one: paths of steps.
//!
//! Steps tied by links form a component. A dish that is a chain is one path, and so is its own component; other components
//! are cut into paths, the longest first, each of which is put back exactly while the others stand.

use crate::instance::Instance;

/// A path of steps, each linked to the next.
#[derive(Clone, Debug)]
pub(crate) struct Unit {
    pub(crate) steps: Vec<usize>,
    pub(crate) component: usize,
}

/// All steps, cut into paths.
pub(crate) struct Units {
    pub(crate) units: Vec<Unit>,
    /// For each component its steps in an order that agrees with the links.
    pub(crate) components: Vec<Vec<usize>>,
    /// For each component its units.
    pub(crate) members: Vec<Vec<usize>>,
    /// For each step its unit.
    pub(crate) of_step: Vec<usize>,
}

impl Units {
    pub(crate) fn new(instance: &Instance<'_>) -> Self {
        let component_of = components(instance);
        let count = component_of.iter().max().map_or(0, |&last| last + 1);
        let mut units = Units {
            units: Vec::new(),
            components: vec![Vec::new(); count],
            members: vec![Vec::new(); count],
            of_step: vec![usize::MAX; instance.steps.len()],
        };
        for &step in &instance.order {
            units.components[component_of[step]].push(step);
        }
        for component in 0..count {
            while let Some(path) = units.longest_path(instance, component) {
                for &step in &path {
                    units.of_step[step] = units.units.len();
                }
                units.members[component].push(units.units.len());
                units.units.push(Unit { steps: path, component });
            }
        }
        units
    }

    /// The longest path through the steps of a component that belong to no unit yet.
    fn longest_path(&self, instance: &Instance<'_>, component: usize) -> Option<Vec<usize>> {
        let free = |step: usize| self.of_step[step] == usize::MAX;
        let mut length = vec![0_usize; instance.steps.len()];
        let mut next = vec![None; instance.steps.len()];
        let mut first = None;
        for &step in self.components[component].iter().rev().filter(|&&step| free(step)) {
            for link in instance.steps[step].after.iter().map(|&link| &instance.links[link]) {
                if free(link.to) && length[link.to] > length[step] {
                    length[step] = length[link.to];
                    next[step] = Some(link.to);
                }
            }
            length[step] += 1;
            if first.is_none_or(|first: usize| length[step] >= length[first]) {
                first = Some(step);
            }
        }
        let mut path = vec![first?];
        while let Some(step) = path.last().and_then(|&step| next[step]) {
            // A path is planned from link to link: one that skips a step would be overlooked, so it ends the path.
            let earlier = &path[..path.len() - 1];
            if instance.steps[step].before.iter().any(|&link| earlier.contains(&instance.links[link].from)) {
                break;
            }
            path.push(step);
        }
        Some(path)
    }
}

/// The number of each step's component, numbered in the order of their first steps.
fn components(instance: &Instance<'_>) -> Vec<usize> {
    let mut parent: Vec<usize> = (0..instance.steps.len()).collect();
    fn root(parent: &mut [usize], mut step: usize) -> usize {
        while parent[step] != step {
            parent[step] = parent[parent[step]];
            step = parent[step];
        }
        step
    }
    for link in &instance.links {
        let (a, b) = (root(&mut parent, link.from), root(&mut parent, link.to));
        parent[a.max(b)] = a.min(b);
    }
    let mut number = vec![usize::MAX; parent.len()];
    let mut count = 0;
    (0..parent.len())
        .map(|step| {
            let root = root(&mut parent, step);
            if number[root] == usize::MAX {
                number[root] = count;
                count += 1;
            }
            number[root]
        })
        .collect()
}

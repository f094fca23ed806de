//! A component as a tree of steps: links are its edges, and whoever comes last is its root.

use crate::instance::{Instance, Time};

use super::Slot;

/// Steps that hang together by links.
#[derive(Clone, Debug)]
pub(crate) struct Component {
    /// In the order of the instance.
    pub(crate) steps: Vec<usize>,
    /// Leaves first; the last one is the root.
    pub(super) nodes: Vec<Node>,
    /// Links that would close a ring; they are dealt with by fixing the end of their earlier step.
    pub(super) rings: Vec<usize>,
}

/// One step of a component.
#[derive(Clone, Debug)]
pub(super) struct Node {
    pub(super) step: usize,
    pub(super) parent: Option<Edge>,
    /// Nodes whose link comes in at this step's start.
    pub(super) at_start: Vec<usize>,
    /// Nodes whose link leaves from this step's end.
    pub(super) at_end: Vec<usize>,
}

/// The link between a node and its parent.
#[derive(Clone, Debug)]
pub(super) struct Edge {
    pub(super) link: usize,
    /// The node of the other step.
    pub(super) node: usize,
    /// Whether the link leaves from the child's end (else it comes in at the child's start).
    pub(super) child_first: bool,
    /// From modes of the child to modes of the parent.
    pub(super) up: Coupling,
    /// From modes of the parent to modes of the child.
    pub(super) down: Coupling,
}

/// Which modes of one step go with which of the next, and with which least gap.
#[derive(Clone, Debug)]
pub(super) struct Coupling {
    /// Each recipe: `(mode of the source, least gap)`.
    pub(super) recipes: Vec<Vec<(usize, Time)>>,
    /// The recipe of each mode of the target.
    pub(super) of: Vec<usize>,
}

impl Coupling {
    fn new(sources: usize, targets: usize, gap: impl Fn(usize, usize) -> Option<Time>) -> Self {
        let mut recipes: Vec<Vec<(usize, Time)>> = Vec::new();
        let mut of = Vec::with_capacity(targets);
        for target in 0..targets {
            let mut recipe: Vec<(usize, Time)> =
                (0..sources).filter_map(|source| gap(source, target).map(|least| (source, least))).collect();
            recipe.sort_by_key(|&(source, least)| (least, source));
            let known = recipes.iter().position(|other| *other == recipe);
            of.push(known.unwrap_or(recipes.len()));
            if known.is_none() {
                recipes.push(recipe);
            }
        }
        Coupling { recipes, of }
    }
}

/// The least gap of a link for two modes of its steps; none if they do not go together.
///
/// A changeover between the two is minded here, for links that do not let the later step start before the earlier ends.
pub(super) fn least_gap(instance: &Instance<'_>, link: usize, from_mode: usize, to_mode: usize) -> Option<Time> {
    let link = &instance.links[link];
    let (from, to) = (&instance.steps[link.from].modes[from_mode], &instance.steps[link.to].modes[to_mode]);
    if link.stay {
        return (from.place.is_some() && from.place == to.place).then_some(link.min);
    }
    let (Some(place), Some(first), Some(second)) = (from.place, from.occupant, to.occupant) else {
        return Some(link.min);
    };
    if from.place != to.place || link.min < 0 {
        return Some(link.min);
    }
    let apart = instance.places[place].separation(first, second).map_or(0, |apart| apart.forth);
    let least = link.min.max(apart);
    (least <= link.max).then_some(least)
}

/// All components, in the order of their first steps.
pub(super) fn components(instance: &Instance<'_>) -> Vec<Component> {
    let mut found = Vec::new();
    let mut seen = vec![false; instance.steps.len()];
    for first in 0..instance.steps.len() {
        if seen[first] {
            continue;
        }
        seen[first] = true;
        let mut steps = vec![first];
        let mut next = 0;
        while next < steps.len() {
            let step = &instance.steps[steps[next]];
            next += 1;
            let before = step.before.iter().map(|&link| instance.links[link].from);
            let after = step.after.iter().map(|&link| instance.links[link].to);
            for other in before.chain(after) {
                if !seen[other] {
                    seen[other] = true;
                    steps.push(other);
                }
            }
        }
        steps.sort_unstable();
        found.push(grow(instance, steps));
    }
    found
}

/// Spans a component with a tree from its last step on.
fn grow(instance: &Instance<'_>, steps: Vec<usize>) -> Component {
    let inside = |step: usize| steps.binary_search(&step).is_ok();
    let root = instance.order.iter().copied().rfind(|&step| inside(step)).unwrap_or(steps[0]);
    let mut visited = vec![root];
    let mut parents: Vec<Option<(usize, usize, bool)>> = vec![None];
    let mut used = Vec::new();
    let mut next = 0;
    while next < visited.len() {
        let at = &instance.steps[visited[next]];
        let before = at.before.iter().map(|&link| (link, instance.links[link].from, true));
        let after = at.after.iter().map(|&link| (link, instance.links[link].to, false));
        for (link, other, child_first) in before.chain(after) {
            if !visited.contains(&other) {
                visited.push(other);
                parents.push(Some((link, next, child_first)));
                used.push(link);
            }
        }
        next += 1;
    }
    let count = visited.len();
    // Visited from the root outwards; turned round, leaves come first.
    let place = |index: usize| count - 1 - index;
    let mut nodes: Vec<Node> = Vec::with_capacity(count);
    for index in (0..count).rev() {
        let step = visited[index];
        let parent = parents[index].map(|(link, parent, child_first)| {
            let (own, other) = (instance.steps[step].modes.len(), instance.steps[visited[parent]].modes.len());
            let gap = |child: usize, parent: usize| match child_first {
                true => least_gap(instance, link, child, parent),
                false => least_gap(instance, link, parent, child),
            };
            Edge {
                link,
                node: place(parent),
                child_first,
                up: Coupling::new(own, other, gap),
                down: Coupling::new(other, own, |parent, child| gap(child, parent)),
            }
        });
        nodes.push(Node { step, parent, at_start: Vec::new(), at_end: Vec::new() });
    }
    for child in 0..count {
        let Some((parent, child_first)) = nodes[child].parent.as_ref().map(|edge| (edge.node, edge.child_first)) else {
            continue;
        };
        if child_first {
            nodes[parent].at_start.push(child);
        } else {
            nodes[parent].at_end.push(child);
        }
    }
    let inner = (0..instance.links.len()).filter(|&link| inside(instance.links[link].from));
    let rings = inner.filter(|link| !used.contains(link)).collect();
    Component { steps, nodes, rings }
}

/// The slots of all steps, and where those of each step begin.
pub(super) fn slots(instance: &Instance<'_>) -> (Vec<Slot>, Vec<usize>) {
    let mut slots = Vec::new();
    let mut first = Vec::with_capacity(instance.steps.len() + 1);
    for (step, ways) in instance.steps.iter().enumerate() {
        first.push(slots.len());
        slots.extend((0..ways.modes.len()).map(|mode| Slot { step, mode }));
    }
    first.push(slots.len());
    (slots, first)
}

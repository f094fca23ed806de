//! Time windows by longest paths through the graph of links.
//!
//! Nodes are the start and the end of each step and the serving of each course, and one for the clock itself. An edge from
//! `a` to `b` of length `w` says `b >= a + w`. A cycle of positive length is a smallest conflict in time: the steps on it,
//! with their gaps and the times they are held to, need more minutes than there are.

use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use super::{Instance, Time};

/// The earliest and the latest minute of an event.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Span {
    pub(crate) lo: Time,
    pub(crate) hi: Time,
}

/// Windows of all events.
#[derive(Clone, Debug, Default)]
pub(crate) struct Windows {
    pub(crate) start: Vec<Span>,
    pub(crate) end: Vec<Span>,
    pub(crate) serve: Vec<Span>,
}

/// The graph of links: an edge `a -> b` of length `w` says `b >= a + w`.
pub(super) struct LinkGraph {
    graph: DiGraph<(), Time>,
    steps: usize,
}

/// Node 0 is the clock; then start and end of each step; then the servings.
impl LinkGraph {
    pub(super) fn new(instance: &Instance<'_>) -> Self {
        let steps = instance.steps.len();
        let nodes = 1 + 2 * steps + instance.courses.len();
        let mut graph = DiGraph::with_capacity(nodes, 4 * nodes);
        for _ in 0..nodes {
            graph.add_node(());
        }
        let mut links = LinkGraph { graph, steps };
        links.add_steps(instance);
        links.add_links(instance);
        links.add_courses(instance);
        links
    }

    fn clock(&self) -> NodeIndex {
        NodeIndex::new(0)
    }

    fn start(&self, step: usize) -> NodeIndex {
        NodeIndex::new(1 + 2 * step)
    }

    fn end(&self, step: usize) -> NodeIndex {
        NodeIndex::new(2 + 2 * step)
    }

    fn serve(&self, course: usize) -> NodeIndex {
        NodeIndex::new(1 + 2 * self.steps + course)
    }

    /// `min <= to - from <= max`; `Time::MAX` for an open end.
    fn between(&mut self, from: NodeIndex, to: NodeIndex, min: Time, max: Time) {
        self.graph.add_edge(from, to, min);
        if max != Time::MAX {
            self.graph.add_edge(to, from, -max);
        }
    }

    fn add_steps(&mut self, instance: &Instance<'_>) {
        for (index, step) in instance.steps.iter().enumerate() {
            let min = step.modes.iter().map(|mode| mode.min).min().unwrap_or(0);
            let max = step.modes.iter().map(|mode| mode.max).max().unwrap_or(0);
            let ready = step.modes.iter().map(|mode| mode.ready).min().unwrap_or(0);
            let (start, end) = (self.start(index), self.end(index));
            self.between(start, end, min, max);
            self.between(self.clock(), start, step.earliest.max(ready), instance.horizon);
            self.between(self.clock(), end, 0, step.latest);
        }
    }

    fn add_links(&mut self, instance: &Instance<'_>) {
        for link in &instance.links {
            self.between(self.end(link.from), self.start(link.to), link.min, link.max);
        }
    }

    fn add_courses(&mut self, instance: &Instance<'_>) {
        for (index, course) in instance.courses.iter().enumerate() {
            let serve = self.serve(index);
            self.between(self.clock(), serve, course.serve, course.serve + course.max_slip);
            for &sink in &course.sinks {
                self.between(self.end(sink), serve, 0, course.together);
            }
            if let Some((earlier, min, max)) = course.after {
                self.between(self.serve(earlier), serve, min, max);
            }
        }
    }

    /// Windows of all events, or the steps of a cycle that needs more minutes than there are, in order.
    pub(super) fn windows(&self) -> Result<Windows, Vec<usize>> {
        let lo = self.longest(false)?;
        let hi = self.longest(true)?;
        let span = |node: NodeIndex| Span { lo: lo[node.index()], hi: -hi[node.index()] };
        let courses = self.graph.node_count() - 1 - 2 * self.steps;
        Ok(Windows {
            start: (0..self.steps).map(|step| span(self.start(step))).collect(),
            end: (0..self.steps).map(|step| span(self.end(step))).collect(),
            serve: (0..courses).map(|course| span(self.serve(course))).collect(),
        })
    }

    /// Longest distances from the clock, or (`reverse`) to it. Bellman and Ford with a queue.
    fn longest(&self, reverse: bool) -> Result<Vec<Time>, Vec<usize>> {
        let nodes = self.graph.node_count();
        // Unreached nodes start at the least distance that can matter: every event has edges from and to the clock.
        let mut distance = vec![Time::MIN / 2; nodes];
        let mut reached_by: Vec<Option<NodeIndex>> = vec![None; nodes];
        let mut rounds = vec![0_usize; nodes];
        let mut queued = vec![false; nodes];
        let mut queue = std::collections::VecDeque::from([self.clock()]);
        distance[0] = 0;
        let direction = if reverse { petgraph::Direction::Incoming } else { petgraph::Direction::Outgoing };
        while let Some(node) = queue.pop_front() {
            queued[node.index()] = false;
            for edge in self.graph.edges_directed(node, direction) {
                let next = if reverse { edge.source() } else { edge.target() };
                let through = distance[node.index()] + edge.weight();
                if through <= distance[next.index()] {
                    continue;
                }
                distance[next.index()] = through;
                reached_by[next.index()] = Some(node);
                rounds[next.index()] += 1;
                if next == self.clock() || rounds[next.index()] > nodes {
                    return Err(self.cycle(&reached_by, next, reverse));
                }
                if !queued[next.index()] {
                    queued[next.index()] = true;
                    queue.push_back(next);
                }
            }
        }
        Ok(distance)
    }

    /// The steps of the cycle that `reached_by` closes behind `node`, in the order of time, each once.
    fn cycle(&self, reached_by: &[Option<NodeIndex>], node: NodeIndex, reverse: bool) -> Vec<usize> {
        let mut on_path = vec![false; self.graph.node_count()];
        let mut first = node;
        while !on_path[first.index()] {
            on_path[first.index()] = true;
            match reached_by[first.index()] {
                Some(before) => first = before,
                None => break,
            }
        }
        let mut nodes = vec![first];
        let mut at = first;
        while let Some(before) = reached_by[at.index()] {
            if before == first || nodes.len() > self.graph.node_count() {
                break;
            }
            nodes.push(before);
            at = before;
        }
        if !reverse {
            nodes.reverse();
        }
        let mut steps: Vec<usize> = Vec::new();
        for node in nodes {
            let step = node.index().wrapping_sub(1) / 2;
            if node.index() > 0 && step < self.steps && !steps.contains(&step) {
                steps.push(step);
            }
        }
        steps
    }
}

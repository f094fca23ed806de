//! Differences `to >= from + weight` that hold under conditions: links, durations, orders.

use super::literal::{Expr, Lit, Side};
use super::trail::{Bounds, Conflict, Reason, Trail};

/// One direction of a difference.
#[derive(Clone, Copy, Debug)]
struct Edge {
    from: Side,
    to: Side,
    weight: i32,
    conditions: [Lit; 3],
}

/// All differences, as edges between sides.
#[derive(Default)]
pub(super) struct Edges {
    edges: Vec<Edge>,
    /// Edges by the side they start from.
    out: Vec<Vec<u32>>,
    /// Edges by a side of one of their conditions, with the bound at which the condition holds.
    conditioned: Vec<Vec<(i32, u32)>>,
}

impl Edges {
    pub(super) fn grow(&mut self, sides: usize) {
        self.out.resize_with(sides, Vec::new);
        self.conditioned.resize_with(sides, Vec::new);
    }

    /// `to >= from + weight` whenever the conditions hold (at most three, not counting what always holds).
    /// The expressions must not be about the same variable.
    pub(super) fn add(&mut self, from: Expr, to: Expr, weight: i32, conditions: &[Lit]) {
        let mut three = [Lit::TRUE; 3];
        let needed = conditions.iter().filter(|&&condition| condition != Lit::TRUE);
        three.iter_mut().zip(needed).for_each(|(slot, &condition)| *slot = condition);
        let weight = weight + from.plus - to.plus;
        for (from, to) in [(from.side, to.side), (to.side ^ 1, from.side ^ 1)] {
            let id = self.edges.len() as u32;
            self.edges.push(Edge { from, to, weight, conditions: three });
            self.out[from as usize].push(id);
            for condition in three.iter().filter(|&&condition| condition != Lit::TRUE) {
                self.conditioned[condition.side as usize].push((condition.at_least, id));
            }
        }
    }

    /// Looks at all edges at the root.
    pub(super) fn propagate_all(&self, trail: &mut Trail) -> Result<(), Conflict> {
        (0..self.edges.len()).try_for_each(|edge| self.check(trail, edge as u32))
    }

    pub(super) fn propagate(&self, trail: &mut Trail, side: Side, old: i32, new: i32) -> Result<(), Conflict> {
        for &(threshold, edge) in &self.conditioned[side as usize] {
            if old < threshold && threshold <= new {
                self.check(trail, edge)?;
            }
        }
        // If the bound has moved on, a later entry will see to it.
        if trail.lo(side) == new {
            for &edge in &self.out[side as usize] {
                self.check(trail, edge)?;
            }
        }
        Ok(())
    }

    fn check(&self, trail: &mut Trail, id: u32) -> Result<(), Conflict> {
        let Edge { from, to, weight, conditions } = self.edges[id as usize];
        let mut open = None;
        for condition in conditions {
            if trail.holds(condition) {
                continue;
            }
            if open.is_some() || trail.fails(condition) {
                return Ok(());
            }
            open = Some(condition);
        }
        let reached = trail.lo(from) + weight;
        let Some(open) = open else {
            return trail.set(Lit { side: to, at_least: reached }, Reason::Edge(id));
        };
        if reached <= -trail.lo(to ^ 1) {
            return Ok(());
        }
        trail.set_because(open.opposite(), |trail, why| {
            let at_least = trail.lo(from);
            why.extend([Lit { side: from, at_least }, Lit { side: to ^ 1, at_least: 1 - reached }]);
            why.extend(conditions.iter().filter(|&&condition| condition != open));
        })
    }

    /// Why an edge makes its end reach a bound.
    pub(super) fn explain(&self, edge: u32, at_least: i32, why: &mut Vec<Lit>) {
        let Edge { from, weight, conditions, .. } = self.edges[edge as usize];
        why.push(Lit { side: from, at_least: at_least - weight });
        why.extend(conditions);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_condition_that_cannot_hold_is_dropped_and_one_that_holds_binds() {
        let mut trail = Trail::new();
        let (a, b, order) = (trail.variable(0, 20), trail.variable(0, 20), trail.variable(0, 1));
        let mut edges = Edges::default();
        edges.grow(trail.sides());
        edges.add(a, b, 8, &[order.at_least(1)]);
        trail.new_level();
        trail.set(a.at_least(13), Reason::Chosen).expect("free");
        edges.propagate(&mut trail, a.side, 0, 13).expect("free");
        assert_eq!(trail.most(order), 0);
        let Reason::Note { start, len } = trail.entries[1].reason else { panic!("noted") };
        assert_eq!(trail.noted(start, len)[..2], [a.at_least(13), b.at_most(20)]);
        trail.back_to(0, |_| {});
        trail.new_level();
        trail.set(order.at_least(1), Reason::Chosen).expect("free");
        edges.propagate(&mut trail, order.side, 0, 1).expect("free");
        assert_eq!((trail.least(b), trail.most(a)), (8, 12));
        let mut why = Vec::new();
        edges.explain(0, 7, &mut why);
        assert_eq!(why[..2], [a.at_least(-1), order.at_least(1)]);
    }
}

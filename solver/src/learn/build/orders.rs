//! Two things that may not overlap: one comes first.

use std::collections::BTreeMap;

use super::Builder;
use super::paths::Paths;
use crate::learn::literal::{Expr, Lit};
use crate::learn::model::Precedence;
use crate::learn::trail::Bounds;

/// Something that runs over `[start, end)`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Interval {
    pub(super) start: Expr,
    pub(super) end: Expr,
}

/// Orders made so far.
pub(super) struct Orders {
    paths: Paths,
    /// For each pair the literal "the first comes before the second".
    known: BTreeMap<(Interval, Interval), Lit>,
}

impl Orders {
    pub(super) fn new(paths: Paths) -> Self {
        Orders { paths, known: BTreeMap::new() }
    }

    /// The literal that says that `a` comes before `b`, if there is one.
    pub(super) fn known(&self, a: Interval, b: Interval) -> Option<Lit> {
        let lit = self.known.get(&(a.min(b), a.max(b)));
        lit.map(|&lit| if a <= b { lit } else { lit.opposite() })
    }

    /// How many pairs have an order of their own.
    pub(super) fn len(&self) -> usize {
        self.known.len()
    }
}

impl Builder<'_, '_> {
    /// Under the conditions, `b` starts `forth` after the end of `a`, or `a` starts `back` after the end of `b`.
    pub(super) fn separate(
        &mut self,
        orders: &mut Orders,
        [a, b]: [Interval; 2],
        conditions: [Lit; 2],
        [forth, back]: [i32; 2],
    ) {
        let trail = &self.engine.trail;
        let conditions: Vec<Lit> = conditions.into_iter().filter(|&lit| !trail.holds(lit)).collect();
        if conditions.iter().any(|&lit| trail.fails(lit)) {
            return;
        }
        let keeps = |first: Interval, second: Interval, gap: i32| {
            orders.paths.between(first.end, second.start) >= gap
                || trail.most(first.end) + gap <= trail.least(second.start)
        };
        if keeps(a, b, forth) || keeps(b, a, back) {
            return;
        }
        let cannot = |first: Interval, second: Interval, gap: i32| {
            orders.paths.between(second.start, first.end) > -gap
                || trail.least(first.end) + gap > trail.most(second.start)
        };
        match (cannot(a, b, forth), cannot(b, a, back)) {
            (true, true) => {
                let clause: Vec<Lit> = conditions.iter().map(|lit| lit.opposite()).collect();
                self.engine.clause(&clause);
            }
            (true, false) => self.difference(b.end, a.start, back, &conditions),
            (false, true) => self.difference(a.end, b.start, forth, &conditions),
            (false, false) => {
                let yes = self.order(orders, a, b);
                let with = |lit: Lit| -> Vec<Lit> { std::iter::once(lit).chain(conditions.iter().copied()).collect() };
                self.difference(a.end, b.start, forth, &with(yes));
                self.difference(b.end, a.start, back, &with(yes.opposite()));
            }
        }
    }

    /// The literal that says that `a` comes before `b`.
    pub(super) fn order(&mut self, orders: &mut Orders, a: Interval, b: Interval) -> Lit {
        if a > b {
            return self.order(orders, b, a).opposite();
        }
        if let Some(&known) = orders.known.get(&(a, b)) {
            return known;
        }
        let yes = self.engine.order();
        orders.known.insert((a, b), yes);
        self.orders.push(Precedence { yes, first: a.start, second: b.start });
        yes
    }
}

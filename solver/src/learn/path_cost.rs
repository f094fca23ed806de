//! What the waits along one dish cost together.
//!
//! Going back from an anchor (the serving, say) every moment of the dish lies before it by what is fixed plus the waits in
//! between. However the waits are shared out, they must add up: so the cheapest way of sharing them out is a bound on their
//! cost, although no single wait is known yet. The sums are nested, hence the cheapest way is found greedily from the anchor on.

use super::literal::{Expr, Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Past, Reason, Trail};
use crate::instance::Rate;

/// The most waits in one chain.
pub(super) const LONGEST: usize = 24;

/// A wait, and what it costs.
#[derive(Clone, Copy)]
pub(super) struct Element {
    pub(super) wait: Expr,
    pub(super) rate: Rate,
}

/// A moment of the dish: `fixed` minutes and the first `elements` waits before the anchor at least.
#[derive(Clone, Copy)]
pub(super) struct Event {
    pub(super) moment: Expr,
    pub(super) elements: usize,
    pub(super) fixed: i32,
}

/// The rule for one chain of waits.
pub(super) struct PathCost {
    pub(super) anchor: Expr,
    /// From the anchor back in time; at most [`LONGEST`].
    pub(super) elements: Vec<Element>,
    /// From the anchor back in time; no more than there are elements, plus one.
    pub(super) events: Vec<Event>,
    pub(super) cost: Expr,
}

/// What must be shared out, and within which bounds.
#[derive(Clone, Copy)]
struct Case {
    /// For each event, the least sum of the waits after it.
    need: [i32; LONGEST + 1],
    lo: [i32; LONGEST],
    hi: [i32; LONGEST],
}

/// A need that asks for nothing.
const NOTHING: i32 = i32::MIN / 2;

impl PathCost {
    fn case(&self, bounds: &impl Bounds) -> Case {
        let mut case = Case { need: [NOTHING; LONGEST + 1], lo: [0; LONGEST], hi: [0; LONGEST] };
        for (index, element) in self.elements.iter().enumerate() {
            case.lo[index] = bounds.least(element.wait).max(0);
            case.hi[index] = bounds.most(element.wait);
        }
        let anchor = bounds.least(self.anchor);
        for (need, event) in case.need.iter_mut().zip(&self.events) {
            *need = anchor - bounds.most(event.moment) - event.fixed;
        }
        case
    }

    /// The least cost; `i64::MAX` if the needs cannot be met.
    fn price(&self, case: &Case) -> i64 {
        let mut waits = case.lo;
        let mut sum = 0;
        let mut summed = 0;
        for (event, &need) in self.events.iter().zip(&case.need) {
            sum += waits[summed..event.elements].iter().sum::<i32>();
            summed = event.elements;
            while sum < need {
                let slope = |index: usize| {
                    let rate = self.elements[index].rate;
                    if waits[index] < rate.soft { rate.rate } else { rate.rate_after }
                };
                let open = (0..event.elements).filter(|&index| waits[index] < case.hi[index]);
                let Some(cheapest) = open.min_by_key(|&index| slope(index)) else { return i64::MAX };
                let (wait, soft) = (waits[cheapest], self.elements[cheapest].rate.soft);
                let until = if wait < soft { soft.min(case.hi[cheapest]) } else { case.hi[cheapest] };
                let more = (until - wait).min(need - sum);
                waits[cheapest] += more;
                sum += more;
            }
        }
        self.elements.iter().zip(waits).map(|(element, wait)| element.rate.cost(wait)).sum()
    }

    /// The greatest value in `fits..fails` that still fits, if `set` puts it into the case.
    fn greatest(&self, case: &Case, budget: i64, fits: i32, fails: i32, set: impl Fn(&mut Case, i32)) -> i32 {
        let (mut fits, mut fails) = (fits, fails);
        while fits + 1 < fails {
            let middle = fits + (fails - fits) / 2;
            let mut trial = *case;
            set(&mut trial, middle);
            if self.price(&trial) <= budget { fits = middle } else { fails = middle }
        }
        fits
    }

    /// Whether the case costs more than the budget once `set` has put a value into it.
    fn exceeds(&self, case: &Case, budget: i64, value: i32, set: impl Fn(&mut Case, i32)) -> bool {
        let mut trial = *case;
        set(&mut trial, value);
        self.price(&trial) > budget
    }
}

impl Propagator for PathCost {
    fn sides(&self) -> Vec<Side> {
        let mut sides = vec![self.anchor.side];
        sides.extend(self.elements.iter().flat_map(|element| [element.wait.side, element.wait.side ^ 1]));
        sides.extend(self.events.iter().map(|event| event.moment.side ^ 1));
        sides.sort_unstable();
        sides.dedup();
        sides
    }

    fn rank(&self) -> usize {
        1
    }

    fn propagate(&mut self, trail: &mut Trail, rule: u32) -> Result<(), Conflict> {
        let budget = trail.most(self.cost);
        let least = self.price(&self.case(trail)).min(i64::from(budget) + 1) as i32;
        trail.set(self.cost.at_least(least), Reason::Rule { rule, what: 0 })
    }

    fn explain(&self, past: &Past<'_>, lit: Lit, _: u32, why: &mut Vec<Lit>) {
        let mut case = self.case(past);
        let limit = i64::from(lit.at_least + self.cost.plus) - 1;
        let anchor = past.least(self.anchor);
        self.relax(past, &mut case, limit, why);
        let mut anchored = false;
        for (index, event) in self.events.iter().enumerate() {
            if case.need[index] == NOTHING {
                continue;
            }
            let drop = |case: &mut Case, need: i32| case.need[index] = need;
            if self.exceeds(&case, limit, NOTHING, drop) {
                case.need[index] = NOTHING;
                continue;
            }
            // The least need that still costs too much is one more than the greatest that does not.
            let need = self.greatest(&case, limit, -1, case.need[index], drop) + 1;
            case.need[index] = need;
            why.push(event.moment.at_most(anchor - need - event.fixed));
            anchored = true;
        }
        if anchored {
            why.push(self.anchor.at_least(anchor));
        }
    }
}

impl PathCost {
    fn root_most(&self, past: &Past<'_>, expr: Expr) -> i32 {
        expr.plus - past.trail.root(expr.side ^ 1)
    }

    /// Loosens the bounds of the waits as far as the case still costs more than the limit, and names those that are needed.
    fn relax(&self, past: &Past<'_>, case: &mut Case, limit: i64, why: &mut Vec<Lit>) {
        for (index, element) in self.elements.iter().enumerate() {
            let (lo, hi) = (case.lo[index], case.hi[index]);
            let root_hi = self.root_most(past, element.wait);
            if hi < root_hi {
                if self.exceeds(case, limit, root_hi, |case, value| case.hi[index] = value) {
                    case.hi[index] = root_hi;
                } else {
                    why.push(element.wait.at_most(hi));
                }
            }
            let root_lo = (past.trail.root(element.wait.side) + element.wait.plus).max(0);
            if lo > root_lo {
                let set = |case: &mut Case, value: i32| case.lo[index] = value;
                if self.exceeds(case, limit, root_lo, set) {
                    case.lo[index] = root_lo;
                } else {
                    case.lo[index] = self.greatest(case, limit, root_lo, lo, set) + 1;
                    why.push(element.wait.at_least(case.lo[index]));
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bent(rate: i64, soft: i32, rate_after: i64) -> Rate {
        Rate { rate, soft, rate_after }
    }

    #[test]
    fn waits_are_shared_out_in_the_cheapest_way() {
        let mut trail = Trail::new();
        let [a, b] = [0; 2].map(|_| trail.variable(0, 100));
        let waits = [0; 2].map(|_| trail.variable(0, 20));
        let cost = trail.variable(0, 10_000);
        let elements =
            vec![Element { wait: waits[0], rate: bent(2, 5, 10) }, Element { wait: waits[1], rate: bent(1, 8, 4) }];
        // Served at 60; `a` ends before that, `b` ends 10 and the second wait before `a` starts.
        let events = vec![Event { moment: a, elements: 1, fixed: 0 }, Event { moment: b, elements: 2, fixed: 10 }];
        let mut chain = PathCost { anchor: Expr::constant(60), elements, events, cost };
        trail.new_level();
        trail.set(a.at_most(57), Reason::Chosen).expect("free");
        trail.set(b.at_most(40), Reason::Chosen).expect("free");
        chain.propagate(&mut trail, 0).expect("free");
        // 10 minutes in all, 3 of them in the first: 2 * 3 - or rather 3 + 7, the second being cheaper.
        assert_eq!(trail.least(cost), 3 * 2 + 7);
        let entry = trail.cause(cost.at_least(10)).expect("caused");
        let mut why = Vec::new();
        chain.explain(&Past { trail: &trail, entry }, cost.at_least(10), 0, &mut why);
        // With one minute less in all, 8 at 1 and one at 2; the first wait need not be known.
        assert_eq!(why, [b.at_most(41), Lit::TRUE]);
    }
}

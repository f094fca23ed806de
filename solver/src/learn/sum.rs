//! A total is at least a sum of convex costs: lateness, waiting, hot minutes.

use super::literal::{Expr, Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Past, Reason, Trail};
use crate::instance::{Rate, Time};

/// `unit * total >= sum of rate(expr)`, rounded down to the unit.
pub(super) struct Sum {
    pub(super) terms: Vec<(Expr, Rate)>,
    pub(super) total: Expr,
    pub(super) unit: i64,
}

fn cost(rate: Rate, value: i32) -> i64 {
    rate.cost(value.max(0))
}

/// The greatest value that costs no more than `budget` (not negative).
pub(super) fn affordable(rate: Rate, budget: i64) -> i32 {
    let soft = i64::from(rate.soft);
    let beyond = |paid: i64| {
        if rate.rate_after == 0 { i64::MAX } else { soft.saturating_add((budget - paid) / rate.rate_after) }
    };
    let value = if rate.rate == 0 {
        beyond(0)
    } else if budget / rate.rate <= soft {
        budget / rate.rate
    } else {
        beyond(rate.rate * soft)
    };
    value.min(i64::from(Time::MAX / 4)) as i32
}

/// The remark on bounds of the total.
const TOTAL: u32 = u32::MAX;

impl Sum {
    fn sum(&self, trail: &impl Bounds) -> i64 {
        (0..self.terms.len()).map(|term| self.contribution(trail, term)).sum()
    }

    /// The greatest sum that goes with a total.
    fn limit(&self, total: i32) -> i64 {
        i64::from(total) * self.unit + self.unit - 1
    }

    /// The value that a literal "at most" allows an expression.
    fn value(&self, expr: Expr, at_most: Lit) -> i32 {
        expr.plus - at_most.at_least
    }

    fn contribution(&self, trail: &impl Bounds, term: usize) -> i64 {
        let (expr, rate) = self.terms[term];
        cost(rate, trail.least(expr))
    }

    /// Facts under which the terms (but for `but`) still cost their sum less `spare`.
    fn why(&self, trail: &impl Bounds, but: Option<usize>, mut spare: i64, why: &mut Vec<Lit>) {
        for (index, &(expr, rate)) in self.terms.iter().enumerate() {
            let paid = self.contribution(trail, index);
            if Some(index) == but || paid == 0 {
                continue;
            }
            if paid <= spare {
                spare -= paid;
                continue;
            }
            // The least value that costs no less than what is needed of this term.
            let value = affordable(rate, paid - spare - 1) + 1;
            spare -= paid - cost(rate, value);
            why.push(expr.at_least(value));
        }
    }
}

impl Propagator for Sum {
    fn sides(&self) -> Vec<Side> {
        let mut sides: Vec<Side> = self.terms.iter().map(|(expr, _)| expr.side).collect();
        sides.push(self.total.side ^ 1);
        sides
    }

    fn rank(&self) -> usize {
        0
    }

    fn propagate(&mut self, trail: &mut Trail, rule: u32) -> Result<(), Conflict> {
        let sum = self.sum(trail);
        let total = (sum / self.unit).min(i64::from(i32::MAX / 2)) as i32;
        trail.set(self.total.at_least(total), Reason::Rule { rule, what: TOTAL })?;
        let limit = self.limit(trail.most(self.total));
        for (index, &(expr, rate)) in self.terms.iter().enumerate() {
            let others = sum - self.contribution(trail, index);
            if others + cost(rate, trail.most(expr)) > limit {
                let value = affordable(rate, limit - others);
                trail.set(expr.at_most(value), Reason::Rule { rule, what: index as u32 })?;
            }
        }
        Ok(())
    }

    fn explain(&self, past: &Past<'_>, lit: Lit, what: u32, why: &mut Vec<Lit>) {
        let sum = self.sum(past);
        if what == TOTAL {
            let total = lit.at_least + self.total.plus;
            return self.why(past, None, sum - i64::from(total) * self.unit, why);
        }
        let (expr, rate) = self.terms[what as usize];
        let others = sum - self.contribution(past, what as usize);
        let beyond = others + cost(rate, self.value(expr, lit) + 1);
        let most = past.most(self.total);
        why.push(self.total.at_most(most));
        self.why(past, Some(what as usize), beyond - self.limit(most) - 1, why);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learn::trail::Reason;

    #[test]
    fn what_can_be_afforded() {
        let bent = Rate { rate: 2, soft: 5, rate_after: 10 };
        for (budget, value) in [(0, 0), (9, 4), (10, 5), (19, 5), (20, 6)] {
            assert_eq!(affordable(bent, budget), value);
            assert!(bent.cost(value) <= budget && bent.cost(value + 1) > budget);
        }
        let late = Rate { rate: 0, soft: 3, rate_after: 1 };
        assert_eq!(affordable(late, 0), 3);
        assert!(affordable(Rate::default(), 0) > 1_000_000);
    }

    #[test]
    fn the_total_rises_and_the_terms_are_cut() {
        let mut trail = Trail::new();
        let [x, y] = [0; 2].map(|_| trail.variable(0, 100));
        let total = trail.variable(0, 1000);
        let rate = |rate| Rate { rate, soft: Time::MAX, rate_after: rate };
        let mut sum = Sum { terms: vec![(x, rate(3)), (y, rate(5))], total, unit: 1 };
        trail.new_level();
        trail.set(x.at_least(10), Reason::Chosen).expect("free");
        trail.set(total.at_most(52), Reason::Chosen).expect("free");
        sum.propagate(&mut trail, 0).expect("free");
        assert_eq!((trail.least(total), trail.most(y), trail.most(x)), (30, 4, 17));
        // y <= 4 because the total is at most 52 and x costs at least 28: 52 - 28 < 25.
        let entry = trail.cause(y.at_most(4)).expect("caused");
        let mut why = Vec::new();
        sum.explain(&Past { trail: &trail, entry }, y.at_most(4), 1, &mut why);
        assert_eq!(why, [total.at_most(52), x.at_least(10)]);
    }
}

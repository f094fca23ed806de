//! The totals of the goals.

use super::Builder;
use crate::instance::{Mode, Rate, Time};
use crate::learn::literal::{Expr, Lit};
use crate::learn::model::{Goal, as_number};
use crate::learn::sum::Sum;
use crate::learn::trail::Bounds;

/// The greatest total that a variable stands for.
const MOST: i64 = 1 << 29;

/// A duration taken apart: `least + base + excess`, of which the excess is paid for.
#[derive(Clone, Copy)]
pub(super) struct Excess {
    pub(super) excess: Expr,
    /// What the chosen mode needs beyond the least of all; none if that is always 0.
    pub(super) base: Option<Expr>,
    pub(super) least: Time,
    pub(super) rate: Rate,
}

pub(super) fn flat(rate: i64) -> Rate {
    Rate { rate, soft: Time::MAX, rate_after: rate }
}

impl Builder<'_, '_> {
    pub(super) fn add_lateness(&mut self) -> Goal {
        let courses = self.instance.courses.iter().zip(&self.served);
        let terms: Vec<_> = courses.map(|(course, served)| (served.plus(-course.serve), flat(course.weight))).collect();
        self.rates = terms.iter().map(|&(_, rate)| rate).collect();
        self.add_total(terms)
    }

    pub(super) fn add_waiting(&mut self) -> Goal {
        let instance = self.instance;
        let excesses: Vec<Option<Excess>> =
            instance.steps.iter().enumerate().map(|(index, step)| self.add_excess(index, &step.modes)).collect();
        self.add_chains(&excesses);
        for (index, step) in instance.steps.iter().enumerate() {
            self.add_mode_costs(index, &step.modes);
        }
        let terms = std::mem::take(&mut self.waits);
        self.add_total(terms)
    }

    /// The minutes from `since` to `until`, if there can be any: a variable that is no less, or an expression.
    pub(super) fn wait(&mut self, until: Expr, since: Expr) -> Option<Expr> {
        let trail = &self.engine.trail;
        let (most, least) = (trail.most(until) - trail.least(since), trail.least(until) - trail.most(since));
        let fixed = |expr: Expr| trail.is_fixed(expr.side);
        if until.side == since.side {
            Some(Expr::constant(until.plus - since.plus))
        } else if most <= 0 {
            None
        } else if fixed(since) {
            Some(until.plus(-trail.least(since)))
        } else if fixed(until) {
            Some(since.minus().plus(trail.least(until)))
        } else {
            let wait = self.engine.variable(least.max(0), most);
            self.engine.gaps.add([wait, since, until.minus()], 0);
            Some(wait)
        }
    }

    /// The minutes beyond the least of the chosen mode, where they can vary and have one price.
    fn add_excess(&mut self, step: usize, modes: &[Mode]) -> Option<Excess> {
        let duration = self.durations[step]?;
        let lits = self.steps[step].modes.clone();
        let least = |modes: &[Mode]| modes.iter().map(|mode| mode.min).min().unwrap_or(0);
        let first = &modes[0];
        if modes.iter().any(|mode| mode.wait != first.wait) {
            for (mode, &lit) in modes.iter().zip(&lits) {
                if !mode.wait.is_free() && mode.max > mode.min {
                    let wait = self.engine.variable(0, mode.max - mode.min);
                    self.engine.difference(duration, wait, -mode.min, &[lit]);
                    self.pay(wait, mode.wait);
                }
            }
            return None;
        }
        let least = least(modes);
        if first.wait.is_free() {
            return None;
        }
        if modes.iter().all(|mode| mode.min == least) {
            return Some(Excess { excess: duration.plus(-least), base: None, least, rate: first.wait });
        }
        let base = self.engine.variable(least, modes.iter().map(|mode| mode.min).max().unwrap_or(least));
        self.step_up(base, modes, &lits, |mode| mode.min);
        self.step_up(base.minus(), modes, &lits, |mode| -mode.min);
        let most = modes.iter().map(|mode| mode.max - mode.min).max().unwrap_or(0);
        let excess = self.engine.variable(0, most);
        self.step_up(excess.minus(), modes, &lits, |mode| mode.min - mode.max);
        self.engine.gaps.add([excess, base, duration.minus()], 0);
        Some(Excess { excess, base: Some(base.plus(-least)), least, rate: first.wait })
    }

    fn add_mode_costs(&mut self, step: usize, modes: &[Mode]) {
        let least = modes.iter().map(|mode| mode.cost).min().unwrap_or(0);
        if least > 0 {
            self.pay(Expr::constant(1), flat(least));
        }
        let lits = self.steps[step].modes.clone();
        let dear: Vec<(Lit, i64)> = modes
            .iter()
            .zip(&lits)
            .filter(|(mode, _)| mode.cost > least)
            .map(|(mode, &lit)| (lit, mode.cost - least))
            .collect();
        if let [(lit, cost)] = dear[..] {
            self.pay(as_number(lit), flat(cost));
        } else if let Some(most) = dear.iter().map(|&(_, cost)| cost).max() {
            // Legal costs are small enough for a bound.
            let cost = self.engine.variable(0, most as i32);
            self.step_up(cost, modes, &lits, |mode| (mode.cost - least) as i32);
            self.rates.extend(dear.iter().map(|&(_, cost)| flat(cost)));
            self.waits.push((cost, flat(1)));
        }
    }

    /// These minutes cost this much, and nothing links them to others.
    pub(super) fn pay(&mut self, minutes: Expr, rate: Rate) {
        self.rates.push(rate);
        self.waits.push((minutes, rate));
    }

    /// A variable for a sum of costs, in units that all rates noted down are multiples of.
    pub(super) fn add_total(&mut self, mut terms: Vec<(Expr, Rate)>) -> Goal {
        terms.retain(|(_, rate)| !rate.is_free());
        let mut unit = 0;
        let mut most: i64 = 0;
        for &rate in &self.rates {
            unit = divisor(unit, rate.rate);
            if rate.soft != Time::MAX {
                unit = divisor(unit, rate.rate_after);
            }
        }
        self.rates.clear();
        for &(expr, rate) in &terms {
            most += rate.cost(self.engine.trail.most(expr).max(0));
        }
        unit = unit.max(1);
        if most / unit > MOST {
            unit *= most / unit / MOST + 1;
        }
        let total = self.engine.variable(0, (most / unit) as i32);
        self.engine.add(Box::new(Sum { terms, total, unit }));
        Goal { total, unit }
    }
}

fn divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { divisor(b, a % b) }
}

//! The totals of the goals.

use super::Builder;
use crate::instance::{Mode, Rate, Time};
use crate::learn::literal::{Expr, Lit};
use crate::learn::model::{Goal, as_number};
use crate::learn::sum::Sum;

/// The greatest total that a variable stands for.
const MOST: i64 = 1 << 29;

fn flat(rate: i64) -> Rate {
    Rate { rate, soft: Time::MAX, rate_after: rate }
}

impl Builder<'_, '_> {
    pub(super) fn add_lateness(&mut self) -> Goal {
        let courses = self.instance.courses.iter().zip(&self.served);
        let terms = courses.map(|(course, served)| (served.plus(-course.serve), flat(course.weight))).collect();
        self.add_total(terms)
    }

    pub(super) fn add_waiting(&mut self) -> Goal {
        let instance = self.instance;
        for link in &instance.links {
            let (end, start) = (self.steps[link.from].end, self.steps[link.to].start);
            self.add_wait(start, end.plus(link.min), link.wait);
        }
        for (index, step) in instance.steps.iter().enumerate() {
            if let Some((course, rate)) = step.sink {
                self.add_wait(self.served[course], self.steps[index].end, rate);
            }
            self.add_elastic(index, &step.modes);
            self.add_mode_costs(index, &step.modes);
        }
        let terms = std::mem::take(&mut self.waits);
        self.add_total(terms)
    }

    /// The minutes from `since` to `until` cost this much.
    fn add_wait(&mut self, until: Expr, since: Expr, rate: Rate) {
        let (most, least) = {
            let trail = &self.engine.trail;
            (trail.most(until) - trail.least(since), trail.least(until) - trail.most(since))
        };
        if rate.is_free() || most <= 0 {
            return;
        }
        let fixed = |expr: Expr| self.engine.trail.is_fixed(expr.side);
        let wait = if until.side == since.side {
            Expr::constant(until.plus - since.plus)
        } else if fixed(since) {
            until.plus(-self.engine.trail.least(since))
        } else if fixed(until) {
            since.minus().plus(self.engine.trail.least(until))
        } else {
            let wait = self.engine.variable(least.max(0), most);
            self.engine.gaps.add([wait, since, until.minus()], 0);
            wait
        };
        self.waits.push((wait, rate));
    }

    /// Minutes beyond the least of the chosen mode.
    fn add_elastic(&mut self, step: usize, modes: &[Mode]) {
        let Some(duration) = self.durations[step] else { return };
        let first = &modes[0];
        if modes.iter().all(|mode| mode.min == first.min && mode.wait == first.wait) {
            if !first.wait.is_free() {
                self.waits.push((duration.plus(-first.min), first.wait));
            }
            return;
        }
        for (mode, lit) in modes.iter().zip(self.steps[step].modes.clone()) {
            if !mode.wait.is_free() && mode.max > mode.min {
                let wait = self.engine.variable(0, mode.max - mode.min);
                self.engine.difference(duration, wait, -mode.min, &[lit]);
                self.waits.push((wait, mode.wait));
            }
        }
    }

    fn add_mode_costs(&mut self, step: usize, modes: &[Mode]) {
        let least = modes.iter().map(|mode| mode.cost).min().unwrap_or(0);
        if least > 0 {
            self.waits.push((Expr::constant(1), flat(least)));
        }
        let lits = self.steps[step].modes.clone();
        let dear: Vec<(Lit, i64)> = modes
            .iter()
            .zip(&lits)
            .filter(|(mode, _)| mode.cost > least)
            .map(|(mode, &lit)| (lit, mode.cost - least))
            .collect();
        if let [(lit, cost)] = dear[..] {
            self.waits.push((as_number(lit), flat(cost)));
        } else if let Some(most) = dear.iter().map(|&(_, cost)| cost).max() {
            // Legal costs are small enough for a bound.
            let cost = self.engine.variable(0, most as i32);
            self.step_up(cost, modes, &lits, |mode| (mode.cost - least) as i32);
            self.waits.push((cost, flat(1)));
        }
    }

    /// A variable for a sum of costs, in units that all of them are multiples of.
    pub(super) fn add_total(&mut self, mut terms: Vec<(Expr, Rate)>) -> Goal {
        terms.retain(|(_, rate)| !rate.is_free());
        let mut unit = 0;
        let mut most: i64 = 0;
        for &(expr, rate) in &terms {
            unit = divisor(unit, rate.rate);
            if rate.soft != Time::MAX {
                unit = divisor(unit, rate.rate_after);
            }
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

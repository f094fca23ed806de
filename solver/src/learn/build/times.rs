//! Starts, ends, modes, servings, and the links between them.

use super::Builder;
use crate::instance::{Mode, Span, Time};
use crate::learn::literal::{Expr, Lit};
use crate::learn::model::StepVars;
use crate::learn::trail::Reason;
use rangewright_models::problem::Place;

impl Builder<'_, '_> {
    pub(super) fn add_steps(&mut self) {
        let instance = self.instance;
        let mut made: Vec<Option<(StepVars, Option<Expr>)>> = instance.steps.iter().map(|_| None).collect();
        for &index in &instance.order {
            let step = &instance.steps[index];
            let (start_span, end_span) = (instance.windows.start[index], instance.windows.end[index]);
            // A start that follows an end at a fixed distance is that end plus a constant.
            let tied = step.before.iter().map(|&link| &instance.links[link]).find(|link| link.min == link.max);
            let start = match tied.and_then(|link| made[link.from].as_ref().map(|(vars, _)| vars.end.plus(link.min))) {
                Some(start) => self.confine(start, start_span),
                None => self.engine.decision(start_span.lo, start_span.hi),
            };
            let modes = self.add_modes(step.modes.len());
            let (end, duration) = self.add_end(start, end_span, &step.modes, &modes);
            // Each way has its own earliest minute.
            self.step_up(start, &step.modes, &modes, |mode| mode.ready);
            let minutes = step.modes.iter().map(|mode| mode.min).collect();
            made[index] = Some((StepVars { start, end, modes, minutes }, duration));
        }
        for (vars, duration) in made.into_iter().flatten() {
            self.steps.push(vars);
            self.durations.push(duration);
        }
    }

    fn confine(&mut self, expr: Expr, span: Span) -> Expr {
        for lit in [expr.at_least(span.lo), expr.at_most(span.hi)] {
            self.engine.refuted |= self.engine.trail.set(lit, Reason::Chosen).is_err();
        }
        expr
    }

    fn add_modes(&mut self, count: usize) -> Vec<Lit> {
        match count {
            1 => vec![Lit::TRUE],
            2 => {
                let first = self.engine.decision(0, 1).at_least(1);
                vec![first, first.opposite()]
            }
            _ => {
                let modes: Vec<Lit> = (0..count).map(|_| self.engine.decision(0, 1).at_least(1)).collect();
                self.engine.clause(&modes);
                for (index, &mode) in modes.iter().enumerate() {
                    for &other in &modes[index + 1..] {
                        self.engine.clause(&[mode.opposite(), other.opposite()]);
                    }
                }
                modes
            }
        }
    }

    fn add_end(&mut self, start: Expr, span: Span, modes: &[Mode], lits: &[Lit]) -> (Expr, Option<Expr>) {
        let min = modes.iter().map(|mode| mode.min).min().unwrap_or(0);
        let max = modes.iter().map(|mode| mode.max).max().unwrap_or(0);
        if min == max {
            let end = start.plus(min);
            return (self.confine(end, span), None);
        }
        let end = self.engine.decision(span.lo, span.hi);
        let duration = self.engine.variable(min, max);
        self.engine.gaps.add([end, start.minus(), duration.minus()], 0);
        self.engine.gaps.add([end.minus(), start, duration], 0);
        self.firm.extend([(start, end, min), (end, start, -max)]);
        self.step_up(duration, modes, lits, |mode| mode.min);
        self.step_up(duration.minus(), modes, lits, |mode| -mode.max);
        (end, Some(duration))
    }

    /// The expression is at least what the chosen mode says, and so at least the least that the remaining modes say.
    pub(super) fn step_up(&mut self, expr: Expr, modes: &[Mode], lits: &[Lit], says: impl Fn(&Mode) -> Time) {
        let mut bounds: Vec<Time> = modes.iter().map(&says).collect();
        for (mode, &lit) in modes.iter().zip(lits) {
            self.engine.clause(&[lit.opposite(), expr.at_least(says(mode))]);
        }
        bounds.sort_unstable();
        bounds.dedup();
        for bound in bounds {
            let lower = modes.iter().zip(lits).filter(|(mode, _)| says(mode) < bound);
            let mut clause: Vec<Lit> = lower.map(|(_, &lit)| lit).collect();
            clause.push(expr.at_least(bound));
            self.engine.clause(&clause);
        }
    }

    pub(super) fn add_courses(&mut self) {
        let instance = self.instance;
        for (course, span) in instance.courses.iter().zip(&instance.windows.serve) {
            let tied = (course.together == 0).then(|| course.sinks.first()).flatten();
            let served = match tied {
                Some(&sink) => self.confine(self.steps[sink].end, *span),
                None => self.engine.decision(span.lo, span.hi),
            };
            for &sink in &course.sinks {
                let end = self.steps[sink].end;
                self.difference(end, served, 0, &[]);
                self.difference(served, end, -course.together, &[]);
            }
            self.served.push(served);
        }
        for (course, &served) in instance.courses.iter().zip(&self.served.clone()) {
            if let Some((earlier, min, max)) = course.after {
                let earlier = self.served[earlier];
                self.difference(earlier, served, min, &[]);
                if max != Time::MAX {
                    self.difference(served, earlier, -max, &[]);
                }
            }
        }
    }

    pub(super) fn add_links(&mut self) {
        let instance = self.instance;
        for link in &instance.links {
            let (end, start) = (self.steps[link.from].end, self.steps[link.to].start);
            self.difference(end, start, link.min, &[]);
            if link.max != Time::MAX {
                self.difference(start, end, -link.max, &[]);
            }
            if link.stay {
                self.keep_in_one_cavity(link.from, link.to);
            }
        }
    }

    /// Both modes of a stay are in the same cavity.
    fn keep_in_one_cavity(&mut self, from: usize, to: usize) {
        let instance = self.instance;
        let is_cavity = |place: usize| matches!(instance.problem.places[place], Place::Cavity(_));
        for (one, other) in [(from, to), (to, from)] {
            for (mode, &lit) in instance.steps[one].modes.iter().zip(&self.steps[one].modes) {
                let others = instance.steps[other].modes.iter().zip(&self.steps[other].modes);
                let same = others.filter(|(other, _)| mode.place.is_some_and(is_cavity) && other.place == mode.place);
                let mut clause: Vec<Lit> = same.map(|(_, &lit)| lit).collect();
                clause.push(lit.opposite());
                self.engine.clause(&clause);
            }
        }
    }
}

//! The variables that stand for a plan, and the plan they stand for.

use super::crew::WorkVars;
use super::literal::{Expr, Lit};
use super::trail::{Bounds, Trail};
use crate::assignment::{Assignment, Choice};
use crate::instance::{Instance, Time};

/// Variables of a step.
pub(super) struct StepVars {
    pub(super) start: Expr,
    pub(super) end: Expr,
    /// One literal for each mode; exactly one holds.
    pub(super) modes: Vec<Lit>,
    /// The least minutes of each mode.
    pub(super) minutes: Vec<Time>,
}

/// The total of one goal, counted in units.
#[derive(Clone, Copy, Debug)]
pub(super) struct Goal {
    pub(super) total: Expr,
    pub(super) unit: i64,
}

/// A yes or no to "the first ends before the second starts".
pub(super) struct Precedence {
    pub(super) yes: Lit,
    pub(super) first: Expr,
    pub(super) second: Expr,
}

/// All variables that have a meaning outside the search.
pub(super) struct Model {
    pub(super) steps: Vec<StepVars>,
    pub(super) served: Vec<Expr>,
    pub(super) goals: [Goal; 3],
    pub(super) orders: Vec<Precedence>,
    /// Pieces of work, where it matters who does them.
    pub(super) works: Vec<WorkVars>,
}

impl Model {
    /// The plan, once everything is decided.
    pub(super) fn read(&self, trail: &Trail, instance: &Instance<'_>) -> Assignment {
        let steps = self.steps.iter().map(|vars| Choice {
            mode: vars.modes.iter().position(|&mode| trail.holds(mode)).unwrap_or(0),
            start: trail.least(vars.start),
            end: trail.least(vars.end),
        });
        let mut assignment = Assignment { steps: steps.collect(), served: Vec::new() };
        assignment.serve_soonest(instance);
        assignment
    }

    /// Facts that hold a step where a plan has it.
    pub(super) fn hold(&self, step: usize, choice: Choice) -> [Lit; 5] {
        let vars = &self.steps[step];
        let (start, end) = (vars.start, vars.end);
        [
            vars.modes[choice.mode],
            start.at_least(choice.start),
            start.at_most(choice.start),
            end.at_least(choice.end),
            end.at_most(choice.end),
        ]
    }

    /// Tells the value that a plan gives to each variable.
    pub(super) fn tell(&self, plan: &Assignment, mut value: impl FnMut(Expr, i32)) {
        for (vars, choice) in self.steps.iter().zip(&plan.steps) {
            value(vars.start, choice.start);
            value(vars.end, choice.end);
            for (mode, &lit) in vars.modes.iter().enumerate() {
                value(as_number(lit), i32::from(mode == choice.mode));
            }
        }
        for (&expr, &minute) in self.served.iter().zip(&plan.served) {
            value(expr, minute);
        }
    }
}

/// A literal of a variable that is 0 or 1 as an expression: 1 if it holds.
pub(super) fn as_number(lit: Lit) -> Expr {
    Expr { side: lit.side, plus: 1 - lit.at_least }
}

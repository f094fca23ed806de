//! From an instance to variables and rules.

mod chains;
mod costs;
mod crew;
mod orders;
mod ovens;
mod paths;
mod scarce;
mod times;

use super::crew::WorkVars;
use super::engine::Engine;
use super::literal::{Expr, Lit};
use super::model::{Model, Precedence, StepVars};
use crate::instance::{Instance, Rate};

/// An instance on its way into an engine.
struct Builder<'i, 'p> {
    instance: &'i Instance<'p>,
    engine: Engine<'i>,
    steps: Vec<StepVars>,
    /// The duration, where it can vary.
    durations: Vec<Option<Expr>>,
    served: Vec<Expr>,
    /// What must be waited for, and what that costs.
    waits: Vec<(Expr, Rate)>,
    /// All rates of the goal at hand.
    rates: Vec<Rate>,
    orders: Vec<Precedence>,
    works: Vec<WorkVars>,
    /// Differences that hold without condition: `to >= from + weight`.
    firm: Vec<(Expr, Expr, i32)>,
}

/// Builds engine and model.
pub(super) fn build<'i>(instance: &'i Instance<'_>) -> (Engine<'i>, Model) {
    let mut builder = Builder {
        instance,
        engine: Engine::new(),
        steps: Vec::new(),
        durations: Vec::new(),
        served: Vec::new(),
        waits: Vec::new(),
        rates: Vec::new(),
        orders: Vec::new(),
        works: Vec::new(),
        firm: Vec::new(),
    };
    builder.add_steps();
    builder.add_courses();
    builder.add_links();
    let lateness = builder.add_lateness();
    let waiting = builder.add_waiting();
    // What has been said so far holds for all plans: orders that it settles need no variable.
    builder.engine.start();
    builder.add_scarcity();
    let hot = builder.add_hot_minutes();
    builder.engine.start();
    let Builder { engine, steps, served, orders, works, .. } = builder;
    (engine, Model { steps, served, goals: [lateness, waiting, hot], orders, works })
}

impl Builder<'_, '_> {
    /// `to >= from + weight` whenever all conditions hold.
    fn difference(&mut self, from: Expr, to: Expr, weight: i32, conditions: &[Lit]) {
        if conditions.is_empty() {
            self.firm.push((from, to, weight));
        }
        self.engine.difference(from, to, weight, conditions);
    }

    /// A literal that holds if and only if one of these modes of a step is chosen.
    fn one_of(&mut self, step: usize, modes: &[usize]) -> Lit {
        let all = &self.steps[step].modes;
        if modes.len() == all.len() {
            return Lit::TRUE;
        }
        if let [mode] = modes {
            return all[*mode];
        }
        let inside: Vec<Lit> = modes.iter().map(|&mode| all[mode]).collect();
        let chosen = self.engine.variable(0, 1).at_least(1);
        for &mode in &inside {
            self.engine.clause(&[mode.opposite(), chosen]);
        }
        let mut clause = vec![chosen.opposite()];
        clause.extend(inside);
        self.engine.clause(&clause);
        chosen
    }
}

//! What a minute of a hand, a burner or a pool is worth: Lagrangian prices by subgradient steps.
//!
//! Each unit is planned alone, paying for what it uses; what is wanted by too many becomes dearer, what is not wanted
//! cheaper. The prices guide insertion: a unit that can do otherwise leaves the minutes to those that cannot.

use super::ledger::Ledger;
use crate::assignment::Choice;
use crate::instance::Time;

/// Multipliers of all resources, minute by minute, in scaled waiting.
#[derive(Clone)]
pub(super) struct Multipliers {
    /// For each resource and minute what comes before it, added up.
    sums: Vec<Vec<i64>>,
    values: Vec<Vec<f64>>,
    /// Rounds made so far, and how bold a step is.
    rounds: usize,
    boldness: f64,
    bound: f64,
    quiet: usize,
    /// The servings they are for.
    pub(super) served: Vec<Time>,
}

/// Rounds until the prices are good enough to go by.
const ROUNDS: usize = 150;

impl Multipliers {
    pub(super) fn new(ledger: &Ledger<'_>, served: &[Time]) -> Self {
        let resources = ledger.instance.resources.len();
        let minutes = ledger.capacity(0).len();
        Multipliers {
            sums: vec![vec![0; minutes + 1]; resources],
            values: vec![vec![0.0; minutes]; resources],
            rounds: 0,
            boldness: 1.0,
            bound: f64::MIN,
            quiet: 0,
            served: served.to_vec(),
        }
    }

    /// Whether they are good enough; a first guess needs fewer rounds.
    pub(super) fn ready(&self, guess: bool) -> bool {
        self.rounds >= if guess { ROUNDS / 3 } else { ROUNDS }
    }

    /// The price of a need over minutes `[from, until)`, given as indices.
    pub(super) fn of(&self, resource: usize, from: usize, until: usize) -> i64 {
        let sums = &self.sums[resource];
        let last = sums.len() - 1;
        sums[until.min(last)] - sums[from.min(last)]
    }

    /// One subgradient step from the plans that the units would make at these prices (`alone`, with their priced `cost`).
    pub(super) fn step(&mut self, ledger: &Ledger<'_>, alone: &[(usize, Choice)], cost: i64, target: i64) {
        self.rounds += 1;
        let mut excess: Vec<Vec<f64>> =
            (0..self.values.len()).map(|r| ledger.capacity(r).iter().map(|&c| -(c as f64)).collect()).collect();
        for &(step, choice) in alone {
            let mode = ledger.mode(step, choice);
            for need in &mode.needs {
                let (start, end) = need.span(choice.start, choice.end);
                for excess in &mut excess[need.resource][ledger.range(start, end)] {
                    *excess += need.amount as f64;
                }
            }
        }
        let priced =
            |resource: usize, minute: usize| self.values[resource][minute] * ledger.capacity(resource)[minute] as f64;
        let rent: f64 =
            (0..excess.len()).flat_map(|r| (0..excess[r].len()).map(move |t| (r, t))).map(|(r, t)| priced(r, t)).sum();
        let bound = cost as f64 - rent;
        self.quiet += 1;
        if bound > self.bound {
            self.bound = bound;
            self.quiet = 0;
        } else if self.quiet > 10 {
            self.quiet = 0;
            self.boldness /= 1.5;
        }
        // Where nothing is wanted and nothing is asked, nothing changes.
        let mut square = 0.0;
        for (excess, values) in excess.iter_mut().zip(&self.values) {
            for (excess, &value) in excess.iter_mut().zip(values) {
                if *excess < 0.0 && value == 0.0 {
                    *excess = 0.0;
                }
                square += *excess * *excess;
            }
        }
        if square == 0.0 {
            self.rounds = ROUNDS;
            return;
        }
        let length = self.boldness * (target as f64 - bound).max(target as f64 / 100.0) / square;
        for (resource, values) in self.values.iter_mut().enumerate() {
            let mut sum = 0;
            for (minute, value) in values.iter_mut().enumerate() {
                *value = (*value + length * excess[resource][minute]).max(0.0);
                self.sums[resource][minute] = sum;
                sum += *value as i64;
            }
            if let Some(last) = self.sums[resource].last_mut() {
                *last = sum;
            }
        }
    }
}

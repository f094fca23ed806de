//! A plan in the making: some units booked, the others in the bank.

use super::frames::Frames;
use super::ledger::Ledger;
use super::multipliers::Multipliers;
use super::path::{PathPlanner, Setting};
use super::penalties::{Force, SCALE};
use super::random::Random;
use super::units::Units;
use crate::assignment::{Assignment, Choice};
use crate::instance::{Instance, Time};

/// What a minute in the way of others costs when a unit has to go in at any price.
pub(super) const PRICE: i64 = 20 * SCALE;

/// What is booked, what is not, and when courses are served.
pub(super) struct Kitchen<'i> {
    pub(super) instance: &'i Instance<'i>,
    pub(super) units: Units,
    pub(super) ledger: Ledger<'i>,
    pub(super) served: Vec<Time>,
    /// Units that are not booked.
    pub(super) bank: Vec<usize>,
    /// For each step how hard its unit was to place so far.
    weights: Vec<i64>,
    frames: Frames,
    chain: PathPlanner,
    lightest: Vec<Vec<i64>>,
    prices: Option<Multipliers>,
    /// Nothing is ever booked here.
    empty: Ledger<'i>,
}

/// How a unit is put in.
#[derive(Clone, Copy, Default)]
pub(super) struct Manner {
    /// What a minute in the way of others costs, if they may be pushed out.
    pub(super) force: Option<i64>,
    pub(super) taboo: Option<(usize, usize)>,
    pub(super) late: bool,
    /// Pay the prices of the minutes.
    pub(super) priced: bool,
    /// The greatest tilt of a step, to try something else than the cheapest.
    pub(super) tilt: i64,
}

impl<'i> Kitchen<'i> {
    /// An empty kitchen, all units in the bank, all courses as early as they can be served.
    pub(super) fn new(instance: &'i Instance<'i>) -> Self {
        let units = Units::new(instance);
        Kitchen {
            instance,
            bank: (0..units.units.len()).collect(),
            units,
            ledger: Ledger::new(instance),
            served: instance.windows.serve.iter().map(|span| span.lo).collect(),
            weights: vec![1; instance.steps.len()],
            frames: Frames::new(instance),
            chain: PathPlanner::default(),
            lightest: Vec::new(),
            prices: None,
            empty: Ledger::new(instance),
        }
    }

    /// The plan, if all is booked.
    pub(super) fn assignment(&self) -> Option<Assignment> {
        let steps: Option<Vec<Choice>> = self.ledger.choices().iter().copied().collect();
        Some(Assignment { steps: steps?, served: self.served.clone() })
    }

    /// Takes over a whole plan.
    pub(super) fn load(&mut self, assignment: &Assignment) {
        for step in 0..assignment.steps.len() {
            self.ledger.unbook(step);
        }
        for (step, &choice) in assignment.steps.iter().enumerate() {
            self.ledger.book(step, choice);
        }
        self.served.clone_from(&assignment.served);
        self.bank.clear();
        self.weights.fill(1);
    }

    /// Goes back to earlier bookings, the bank to be empty.
    pub(super) fn revert(&mut self, choices: &[Option<Choice>]) {
        let changed: Vec<usize> =
            (0..choices.len()).filter(|&step| choices[step] != self.ledger.choices()[step]).collect();
        for &step in &changed {
            self.ledger.unbook(step);
        }
        for &step in &changed {
            if let Some(choice) = choices[step] {
                self.ledger.book(step, choice);
            }
        }
        self.bank.clear();
    }

    /// Takes a unit out.
    pub(super) fn remove(&mut self, unit: usize) {
        for &step in &self.units.units[unit].steps {
            self.ledger.unbook(step);
        }
        if !self.bank.contains(&unit) {
            self.bank.push(unit);
        }
    }

    /// Changes the servings and takes out whatever no longer agrees with them.
    pub(super) fn serve_at(&mut self, served: &[Time]) {
        self.served.copy_from_slice(served);
        for unit in 0..self.units.units.len() {
            let late = self.units.units[unit].steps.iter().any(|&step| {
                let source = &self.instance.steps[step];
                let Some(choice) = self.ledger.choices()[step] else { return false };
                source.sink.is_some_and(|(course, _)| {
                    let stands = self.served[course] - choice.end;
                    stands < 0 || stands > self.instance.courses[course].together
                })
            });
            if late {
                for &other in &self.units.members[self.units.units[unit].component].clone() {
                    self.remove(other);
                }
            }
        }
    }

    /// One round towards better prices for the servings as they are. False if there is nothing more to learn.
    pub(super) fn learn_prices(&mut self, target: Option<i64>) -> bool {
        let prices = self.prices.take().filter(|prices| prices.served == self.served);
        let mut prices = prices.unwrap_or_else(|| Multipliers::new(&self.ledger, &self.served));
        let more = !prices.ready(target.is_none());
        if more {
            let mut alone = Vec::new();
            let mut sum = 0;
            for unit in &self.units.units {
                let choices = self.empty.choices();
                if !self.frames.update(self.instance, &self.units, unit.component, choices, &self.served) {
                    continue;
                }
                let setting = Setting {
                    frames: &self.frames,
                    served: &self.served,
                    force: None,
                    prices: Some(&prices),
                    taboo: None,
                    tilts: &[],
                    late: false,
                };
                if let Some((cost, choices)) = self.chain.cheapest(&self.empty, &unit.steps, &setting) {
                    sum += cost;
                    alone.extend(unit.steps.iter().copied().zip(choices));
                }
            }
            prices.step(&self.empty, &alone, sum, target.unwrap_or(2 * sum + 100 * SCALE));
        }
        self.prices = Some(prices);
        more
    }

    /// A unit could not be placed: from now on it gives way less easily.
    pub(super) fn harden(&mut self, unit: usize) {
        for &step in &self.units.units[unit].steps {
            self.weights[step] = (self.weights[step] + 1).min(1 << 20);
        }
    }

    pub(super) fn weight(&self, unit: usize) -> i64 {
        self.units.units[unit].steps.first().map_or(0, |&step| self.weights[step])
    }

    /// What a booked unit costs now in waiting, scaled.
    pub(super) fn cost_of(&self, unit: usize) -> i64 {
        let mut waiting = 0;
        for &step in &self.units.units[unit].steps {
            let Some(choice) = self.ledger.choices()[step] else { continue };
            let source = &self.instance.steps[step];
            let mode = &source.modes[choice.mode];
            waiting += mode.cost + mode.wait.cost(choice.end - choice.start - mode.min);
            for link in source.before.iter().map(|&link| &self.instance.links[link]) {
                if let Some(from) = self.ledger.choices()[link.from] {
                    waiting += link.wait.cost((choice.start - from.end - link.min).max(0));
                }
            }
            if let Some((course, rate)) = source.sink {
                waiting += rate.cost((self.served[course] - choice.end).max(0));
            }
        }
        waiting.saturating_mul(SCALE)
    }

    /// Puts a unit in where it is cheapest, and takes it from the bank. With force, units in its way go to the bank.
    pub(super) fn insert(&mut self, unit: usize, manner: Manner, random: &mut Random) -> Option<i64> {
        let path = self.units.units[unit].steps.clone();
        let mut cost = self.insert_path(unit, &path, manner, random);
        if cost.is_none() && path.len() > 1 {
            // The path stands in its own way, or its own ends do not meet: one step at a time, from the last.
            cost = path
                .iter()
                .rev()
                .try_fold(0, |sum, &step| self.insert_path(unit, &[step], manner, random).map(|cost: i64| sum + cost));
            if cost.is_none() {
                for &step in &path {
                    self.ledger.unbook(step);
                }
            }
        }
        if cost.is_some() {
            self.bank.retain(|&other| other != unit);
        }
        cost
    }

    fn insert_path(&mut self, unit: usize, path: &[usize], manner: Manner, random: &mut Random) -> Option<i64> {
        let component = self.units.units[unit].component;
        if !self.frames.update(self.instance, &self.units, component, self.ledger.choices(), &self.served) {
            return None;
        }
        let mut weights = Vec::new();
        if manner.force.is_some() {
            // A little noise, so that two units do not push each other out for ever.
            weights.extend(self.weights.iter().map(|&weight| weight * (4 + random.below(8) as i64)));
            self.ledger.lightest(&weights, &mut self.lightest);
        }
        let force = manner.force.map(|price| Force { weights: &weights, lightest: &self.lightest, price: price / 8 });
        let mut tilt = || random.below(2 * manner.tilt as usize + 1) as i64 - manner.tilt;
        let tilts: Vec<i64> = if manner.tilt > 0 { path.iter().map(|_| tilt()).collect() } else { Vec::new() };
        let setting = Setting {
            frames: &self.frames,
            served: &self.served,
            force,
            prices: self.prices.as_ref().filter(|_| manner.priced),
            taboo: manner.taboo,
            tilts: &tilts,
            late: manner.late,
        };
        let (cost, choices) = self.chain.cheapest(&self.ledger, path, &setting)?;
        for (index, (&step, &choice)) in path.iter().zip(&choices).enumerate() {
            while let Some(mut others) = self.ledger.clash(step, choice) {
                others.retain(|&other| self.units.of_step[other] != unit);
                let victim = self.weakest(&others, random).filter(|_| manner.force.is_some());
                let Some(victim) = victim else {
                    for &booked in &path[..index] {
                        self.ledger.unbook(booked);
                    }
                    return None;
                };
                self.remove(victim);
            }
            self.ledger.book(step, choice);
        }
        Some(cost)
    }

    /// The unit of these steps that gives way most easily; chance decides between equals.
    fn weakest(&self, steps: &[usize], random: &mut Random) -> Option<usize> {
        let least = steps.iter().map(|&step| self.weights[step]).min()?;
        let weak: Vec<usize> = steps.iter().copied().filter(|&step| self.weights[step] == least).collect();
        Some(self.units.of_step[weak[random.below(weak.len())]])
    }
}

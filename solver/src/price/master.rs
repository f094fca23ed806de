//! The master program: one timetable for each component, so that no row is exceeded.

use std::collections::BTreeSet;

use super::SCALE;
use super::component::Component;
use super::domain::{Domain, Ways};
use super::row::Row;
use crate::assignment::{Assignment, Choice};
use crate::instance::{Instance, Time};
use crate::simplex::{Simplex, Solved};

/// Pivots for one solve of the master program.
const PIVOTS: u64 = 20_000;
/// The most that a missing timetable costs in the master program, in points of waiting.
const DEAREST: f64 = 1e6;
/// Rows and columns are of no use after so many looks without any.
const PATIENCE: u32 = 3;

/// A timetable of a component.
#[derive(Clone, Debug)]
pub(super) struct Column {
    pub(super) component: usize,
    pub(super) choices: Vec<Choice>,
    /// Its column in the simplex.
    id: usize,
    /// Rounds since it was last worth anything.
    idle: u32,
    open: bool,
}

pub(super) struct Master {
    simplex: Simplex,
    components: usize,
    /// What a missing timetable costs, in points of waiting.
    missing: f64,
    pub(super) rows: Vec<Row>,
    known: BTreeSet<Row>,
    /// For each row how often in a row it had no price.
    idle: Vec<u32>,
    pub(super) columns: Vec<Column>,
    have: BTreeSet<(usize, Vec<Choice>)>,
}

impl Master {
    pub(super) fn new(components: usize) -> Self {
        Master {
            simplex: Simplex::new(components, DEAREST),
            missing: 0.0,
            components,
            rows: Vec::new(),
            known: BTreeSet::new(),
            idle: Vec::new(),
            columns: Vec::new(),
            have: BTreeSet::new(),
        }
    }

    /// Adds a timetable. False if it is there already.
    pub(super) fn add_column(
        &mut self,
        ways: &Ways,
        component: &Component,
        index: usize,
        choices: &[Choice],
        waiting: i64,
    ) -> bool {
        if !self.have.insert((index, choices.to_vec())) {
            return false;
        }
        let mut entries = vec![(index, 1.0)];
        for (number, row) in self.rows.iter().enumerate() {
            let count = count(ways, component, row, choices);
            if count != 0 {
                entries.push((self.components + number, count as f32));
            }
        }
        let id = self.simplex.add_column(waiting as f64, &entries);
        self.columns.push(Column { component: index, choices: choices.to_vec(), id, idle: 0, open: true });
        true
    }

    /// Adds a row. False if it is there already.
    pub(super) fn add_row(&mut self, ways: &Ways, components: &[Component], row: Row) -> bool {
        if !self.known.insert(row.clone()) {
            return false;
        }
        let entries = self.columns.iter().filter_map(|column| {
            let count = count(ways, &components[column.component], &row, &column.choices);
            (count != 0).then_some((column.id, count as f32))
        });
        self.simplex.add_row(row.rhs as f64, false, &entries.collect::<Vec<_>>());
        self.rows.push(row);
        self.idle.push(0);
        true
    }

    /// Opens the columns that a node allows, and closes all others.
    pub(super) fn open(
        &mut self,
        ways: &Ways,
        components: &[Component],
        domain: &Domain,
        closed: impl Fn(usize, Choice) -> bool,
    ) {
        for column in &mut self.columns {
            let steps = &components[column.component].steps;
            let allowed = |(&step, &choice): (&usize, &Choice)| {
                domain.allows(ways, step, choice) && !closed(ways.way(step, choice.mode), choice)
            };
            column.open = steps.iter().zip(&column.choices).all(allowed);
            self.simplex.close(column.id, !column.open);
        }
    }

    /// Makes missing timetables so dear that none is missing. False if none is, or if that does not help any more.
    pub(super) fn insist(&mut self) -> bool {
        let is_missing = (0..self.components).any(|component| self.simplex.missing(component) > 1e-6);
        if !is_missing || self.missing >= DEAREST {
            return false;
        }
        self.missing *= 10.0;
        self.simplex.set_missing(self.missing);
        true
    }

    /// A first idea of what a missing timetable costs, from what a plan must stay below.
    pub(super) fn stay_below(&mut self, best: f64) {
        if self.missing == 0.0 {
            self.missing = (2.0 * best + 100.0).min(DEAREST);
            self.simplex.set_missing(self.missing);
        }
    }

    /// Solves the program over the columns there are. False if round-off or the limit on pivots got in the way.
    pub(super) fn solve(&mut self) -> bool {
        self.simplex.solve(PIVOTS) == Solved::Optimal
    }

    pub(super) fn objective(&self) -> f64 {
        self.simplex.objective()
    }

    pub(super) fn pivots(&self) -> u64 {
        self.simplex.pivots
    }

    /// Prices of the rows, scaled and rounded, none of them negative.
    pub(super) fn prices(&self) -> Vec<i64> {
        let price = |row: usize| (-self.simplex.price(self.components + row) * SCALE as f64).round().max(0.0) as i64;
        (0..self.rows.len()).map(price).collect()
    }

    /// What a timetable of a component may cost, prices included, before it is no gain; scaled.
    pub(super) fn worth(&self, component: usize) -> f64 {
        self.simplex.price(component) * SCALE as f64
    }

    /// Timetables in use, with their shares.
    pub(super) fn shares(&self) -> Vec<(&Column, f64)> {
        let shares = self.columns.iter().map(|column| (column, self.simplex.value(column.id)));
        shares.filter(|(_, share)| *share > 1e-7).collect()
    }

    /// The plan, if every component has just one timetable.
    pub(super) fn plan(
        &self,
        instance: &Instance<'_>,
        components: &[Component],
        served: &[Time],
    ) -> Option<Assignment> {
        let mut steps = vec![Choice { mode: 0, start: 0, end: 0 }; instance.steps.len()];
        let mut found = 0;
        for (column, share) in self.shares() {
            if share < 1.0 - 1e-6 {
                return None;
            }
            found += 1;
            for (&step, &choice) in components[column.component].steps.iter().zip(&column.choices) {
                steps[step] = choice;
            }
        }
        (found == self.components).then(|| Assignment { steps, served: served.to_vec() })
    }

    /// Tries the program with some columns closed, for so many pivots, and goes back. The value, or none if it got stuck.
    pub(super) fn try_without(&mut self, keep: impl Fn(&Column) -> bool, pivots: u64) -> f64 {
        let saved = self.simplex.save();
        for column in &self.columns {
            if column.open && !keep(column) {
                self.simplex.close(column.id, true);
            }
        }
        self.simplex.solve(pivots);
        let value = self.simplex.objective();
        for column in &self.columns {
            self.simplex.close(column.id, !column.open);
        }
        self.simplex.load(&saved);
        value
    }

    /// Looks which rows and columns are of use, and drops those that are not once they are many. A column whose reduced cost
    /// is more than `spare` is in no plan that counts, as far as these prices tell.
    pub(super) fn purge(&mut self, spare: f64) {
        let (mut useless_rows, mut useless_columns) = (0, 0);
        for (number, idle) in self.idle.iter_mut().enumerate() {
            *idle = if self.simplex.is_slack(self.components + number) { *idle + 1 } else { 0 };
            useless_rows += usize::from(*idle >= PATIENCE);
        }
        for column in &mut self.columns {
            let useful = self.simplex.is_basic(column.id) || column.open && self.simplex.reduced(column.id) < spare;
            column.idle = if useful { 0 } else { column.idle + 1 };
            useless_columns += usize::from(column.idle >= PATIENCE);
        }
        if 3 * useless_rows < self.rows.len() + 30 && 2 * useless_columns < self.columns.len() + 500 {
            return;
        }
        let mut keep_column = vec![true; self.simplex.column_count()];
        for column in &self.columns {
            keep_column[column.id] = column.idle < PATIENCE;
        }
        let keep_row: Vec<bool> =
            (0..self.components).map(|_| true).chain(self.idle.iter().map(|&idle| idle < PATIENCE)).collect();
        let (columns, rows) = self.simplex.purge(|column| keep_column[column], |row| keep_row[row]);
        let have = &mut self.have;
        self.columns.retain_mut(|column| match columns[column.id] {
            Some(id) => {
                column.id = id;
                true
            }
            None => {
                have.remove(&(column.component, column.choices.clone()));
                false
            }
        });
        let mut number = self.components;
        self.idle.retain(|_| {
            number += 1;
            rows[number - 1].is_some()
        });
        let mut number = self.components;
        let known = &mut self.known;
        self.rows.retain(|row| {
            number += 1;
            let stays = rows[number - 1].is_some();
            if !stays {
                known.remove(row);
            }
            stays
        });
    }
}

/// What a timetable counts in a row.
fn count(ways: &Ways, component: &Component, row: &Row, choices: &[Choice]) -> i64 {
    let of_step = |(&step, &choice): (&usize, &Choice)| {
        let terms = row.of_way(ways.way(step, choice.mode));
        terms.iter().map(|term| term.count(choice)).sum::<i64>()
    };
    component.steps.iter().zip(choices).map(of_step).sum()
}

//! A small revised simplex for a master program that grows columns and rows.
//!
//! `min c x` subject to `A x <= b` or `A x = b`, `x >= 0`; a column can be closed (held at 0). It keeps the whole inverse of
//! the basis, column by column: most columns of it are unit vectors, because few rows are tight, and updates skip zeros.
//! Entries are many and kept in single precision, which is exact for counts. New columns are answered by primal pivots, new rows and closed columns by dual ones, each from the basis at hand.
//! Floating point stays in here: what is proved from its prices is worked out again in integers by whoever uses them.

mod dual;
mod primal;

#[cfg(test)]
mod tests;

/// How far below zero a value or a reduced cost may lie.
const TOLERANCE: f64 = 1e-7;
/// Pivots smaller than this are not trusted.
const PIVOT: f64 = 1e-7;
/// Pivots after which the inverse is made anew.
const FRESH: usize = 300;

/// What holds a place in the basis: a column or the slack of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Var {
    Column(usize),
    Slack(usize),
}

/// How a solve ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Solved {
    Optimal,
    /// The pivot cap was reached, or numbers went bad.
    Stuck,
}

#[derive(Clone, Debug)]
struct Column {
    cost: f64,
    entries: Vec<(u32, f32)>,
    closed: bool,
}

#[derive(Clone, Debug)]
struct Row {
    bound: f64,
    equal: bool,
    entries: Vec<(u32, f32)>,
}

/// The program and its current basis.
#[derive(Clone, Debug, Default)]
pub(crate) struct Simplex {
    columns: Vec<Column>,
    rows: Vec<Row>,
    /// What is basic in each position; there are as many positions as rows.
    basis: Vec<Var>,
    /// Position of each column and each slack in the basis.
    column_at: Vec<Option<u32>>,
    slack_at: Vec<Option<u32>>,
    /// `inverse[row][position]`.
    inverse: Vec<Vec<f64>>,
    /// Value of what is basic in each position.
    values: Vec<f64>,
    /// Price of each row: `c - prices A` are the reduced costs; not positive for `<=` rows of a minimum.
    prices: Vec<f64>,
    reduced: Vec<f64>,
    devex: Vec<f64>,
    /// Entries of the pivot row, by column, and the columns where it has any.
    pivot_row: Vec<f64>,
    touched: Vec<u32>,
    since_fresh: usize,
    /// How many columns stand in for all others.
    groups: usize,
    pub(crate) pivots: u64,
}

/// A basis to come back to, with all that belongs to it.
pub(crate) struct Saved {
    basis: Vec<Var>,
    column_at: Vec<Option<u32>>,
    slack_at: Vec<Option<u32>>,
    inverse: Vec<Vec<f64>>,
    values: Vec<f64>,
    since_fresh: usize,
}

impl Simplex {
    /// A program with so many rows `sum = 1`, each with a column of this cost that can stand in for all others. Those columns
    /// are numbered first.
    pub(crate) fn new(groups: usize, missing: f64) -> Self {
        let mut simplex = Simplex { groups, ..Simplex::default() };
        for group in 0..groups {
            simplex.add_row(1.0, true, &[]);
            simplex.add_column(missing, &[(group, 1.0)]);
        }
        simplex
    }

    /// Adds a row without columns, `<= bound` or `= bound`; its slack enters the basis.
    pub(crate) fn add_row(&mut self, bound: f64, equal: bool, entries: &[(usize, f32)]) -> usize {
        let row = self.rows.len();
        let mut kept: Vec<(u32, f32)> = Vec::with_capacity(entries.len());
        for &(column, value) in entries {
            self.columns[column].entries.push((row as u32, value));
            kept.push((column as u32, value));
        }
        self.rows.push(Row { bound, equal, entries: kept });
        let position = self.basis.len();
        self.basis.push(Var::Slack(row));
        self.slack_at.push(Some(position as u32));
        self.prices.push(0.0);
        // The new line of the inverse: minus (the row's entries in the basis) times the old inverse.
        let mut basic: Vec<(usize, f64)> = Vec::new();
        let mut value = bound;
        for &(column, entry) in entries {
            if let Some(at) = self.column_at[column] {
                let entry = f64::from(entry);
                basic.push((at as usize, entry));
                value -= entry * self.values[at as usize];
            }
        }
        for inverse in &mut self.inverse {
            let entry: f64 = basic.iter().map(|&(at, entry)| entry * inverse[at]).sum();
            inverse.push(-entry);
        }
        let mut unit = vec![0.0; position + 1];
        unit[position] = 1.0;
        self.inverse.push(unit);
        self.values.push(value);
        row
    }

    /// Adds a column, at 0.
    pub(crate) fn add_column(&mut self, cost: f64, entries: &[(usize, f32)]) -> usize {
        let column = self.columns.len();
        let mut reduced = cost;
        for &(row, value) in entries {
            self.rows[row].entries.push((column as u32, value));
            reduced -= self.prices[row] * f64::from(value);
        }
        let entries = entries.iter().map(|&(row, value)| (row as u32, value)).collect();
        self.columns.push(Column { cost, entries, closed: false });
        self.column_at.push(None);
        self.reduced.push(reduced);
        self.devex.push(1.0);
        self.pivot_row.push(0.0);
        column
    }

    /// Holds a column at 0, or lets it go.
    pub(crate) fn close(&mut self, column: usize, closed: bool) {
        self.columns[column].closed = closed;
    }

    /// How much of a group has no column but the one that stands in.
    pub(crate) fn missing(&self, group: usize) -> f64 {
        self.value(group)
    }

    /// What the columns that stand in for all others cost.
    pub(crate) fn set_missing(&mut self, cost: f64) {
        for column in &mut self.columns[..self.groups] {
            column.cost = cost;
        }
    }

    pub(crate) fn column_count(&self) -> usize {
        self.columns.len()
    }

    /// The value of a column.
    pub(crate) fn value(&self, column: usize) -> f64 {
        self.column_at[column].map_or(0.0, |at| self.values[at as usize])
    }

    pub(crate) fn is_basic(&self, column: usize) -> bool {
        self.column_at[column].is_some()
    }

    /// Whether the row is slack in the basis, so that it has no price.
    pub(crate) fn is_slack(&self, row: usize) -> bool {
        self.slack_at[row].is_some()
    }

    pub(crate) fn price(&self, row: usize) -> f64 {
        self.prices[row]
    }

    pub(crate) fn reduced(&self, column: usize) -> f64 {
        self.reduced[column]
    }

    pub(crate) fn objective(&self) -> f64 {
        self.basis.iter().zip(&self.values).map(|(&var, value)| self.cost_of(var) * value).sum()
    }

    /// The basis as it is, to come back to.
    pub(crate) fn save(&self) -> Saved {
        Saved {
            basis: self.basis.clone(),
            column_at: self.column_at.clone(),
            slack_at: self.slack_at.clone(),
            inverse: self.inverse.clone(),
            values: self.values.clone(),
            since_fresh: self.since_fresh,
        }
    }

    /// Back to a saved basis; rows and columns must be the same ones.
    pub(crate) fn load(&mut self, saved: &Saved) {
        self.basis.clone_from(&saved.basis);
        self.column_at.clone_from(&saved.column_at);
        self.slack_at.clone_from(&saved.slack_at);
        self.inverse.clone_from(&saved.inverse);
        self.values.clone_from(&saved.values);
        self.since_fresh = saved.since_fresh;
        self.refresh_costs();
    }

    /// Drops columns and rows. Basic columns and rows that are not slack stay whatever is asked. Returns the new index of each
    /// column and of each row.
    pub(crate) fn purge(
        &mut self,
        keep_column: impl Fn(usize) -> bool,
        keep_row: impl Fn(usize) -> bool,
    ) -> (Vec<Option<usize>>, Vec<Option<usize>>) {
        let keep_row: Vec<bool> = (0..self.rows.len()).map(|row| !self.is_slack(row) || keep_row(row)).collect();
        let keep_column: Vec<bool> =
            (0..self.columns.len()).map(|column| self.is_basic(column) || keep_column(column)).collect();
        let (rows, columns) = (number(&keep_row), number(&keep_column));
        let kept = self.basis.iter().filter_map(|&var| match var {
            Var::Column(column) => columns[column].map(Var::Column),
            Var::Slack(row) => rows[row].map(Var::Slack),
        });
        let basic: Vec<Var> = kept.collect();
        retain(&mut self.columns, &keep_column);
        retain(&mut self.rows, &keep_row);
        for column in &mut self.columns {
            renumber(&mut column.entries, &rows);
        }
        for row in &mut self.rows {
            renumber(&mut row.entries, &columns);
        }
        let count = self.columns.len();
        self.column_at = vec![None; count];
        self.reduced = vec![0.0; count];
        self.devex = vec![1.0; count];
        self.pivot_row = vec![0.0; count];
        self.touched.clear();
        self.prices = vec![0.0; self.rows.len()];
        self.rebuild(&basic);
        (columns, rows)
    }

    /// Solves from the basis at hand, with at most this many pivots.
    pub(crate) fn solve(&mut self, cap: u64) -> Solved {
        let last = self.pivots + cap;
        self.refresh_costs();
        // A few rounds: dual pivots leave columns that are worth entering, and those may undo a little feasibility. Pivots
        // that lead nowhere are cut off, and the last rounds start from nothing.
        for round in 0..6 {
            match round {
                0 => {}
                1..=3 => self.refresh(),
                _ => self.start_over(),
            }
            let patience = last.min(self.pivots + 2_000 + 10 * self.rows.len() as u64);
            let solved = match dual::run(self, patience) {
                Solved::Optimal => primal::run(self, patience),
                // Dual pivots leave out columns of negative reduced cost, so that this proves nothing.
                other => other,
            };
            if solved == Solved::Optimal && self.worst_value() <= 10.0 * TOLERANCE {
                return Solved::Optimal;
            }
            if self.pivots >= last {
                break;
            }
            if solved != Solved::Optimal && round < 3 {
                self.start_over();
            }
        }
        Solved::Stuck
    }

    /// Starts from the columns that stand in for all others: a point that keeps every row.
    fn start_over(&mut self) {
        let standing_in = (0..self.groups).map(Var::Column);
        let basis: Vec<Var> = standing_in.chain((self.groups..self.rows.len()).map(Var::Slack)).collect();
        self.rebuild(&basis);
    }

    fn cost_of(&self, var: Var) -> f64 {
        match var {
            Var::Column(column) => self.columns[column].cost,
            Var::Slack(_) => 0.0,
        }
    }

    /// Whether a variable may be anything but 0.
    fn is_free(&self, var: Var) -> bool {
        match var {
            Var::Column(column) => !self.columns[column].closed,
            Var::Slack(row) => !self.rows[row].equal,
        }
    }

    /// How far the value in a position is from where it may be; negative below 0, positive above a 0 it is held at.
    fn excess(&self, position: usize) -> f64 {
        let value = self.values[position];
        if value < 0.0 || !self.is_free(self.basis[position]) { value } else { 0.0 }
    }

    fn worst_value(&self) -> f64 {
        (0..self.basis.len()).map(|position| self.excess(position).abs()).fold(0.0, f64::max)
    }

    /// The inverse times a column or slack.
    fn ahead(&self, var: Var, out: &mut Vec<f64>) {
        out.clear();
        out.resize(self.basis.len(), 0.0);
        match var {
            Var::Column(column) => {
                for &(row, value) in &self.columns[column].entries {
                    let (row, value) = (row as usize, f64::from(value));
                    if let Some(at) = self.slack_at[row] {
                        out[at as usize] += value;
                    } else {
                        for (out, inverse) in out.iter_mut().zip(&self.inverse[row]) {
                            *out += value * inverse;
                        }
                    }
                }
            }
            Var::Slack(row) => out.copy_from_slice(&self.inverse[row]),
        }
    }

    /// Works out one line of the inverse, `(row, entry)`, and with it the pivot row over all columns.
    fn line(&mut self, position: usize, out: &mut Vec<(usize, f64)>) {
        out.clear();
        for (row, inverse) in self.inverse.iter().enumerate() {
            let entry = inverse[position];
            if entry.abs() > 1e-12 {
                out.push((row, entry));
            }
        }
        self.pivot_row.fill(0.0);
        for &(row, entry) in out.iter() {
            for &(column, value) in &self.rows[row].entries {
                self.pivot_row[column as usize] += entry * f64::from(value);
            }
        }
        let entries = (0..).zip(&self.pivot_row);
        self.touched.clear();
        self.touched.extend(entries.filter(|(_, entry)| **entry != 0.0).map(|(column, _)| column));
    }

    /// Brings a variable into a position. `ahead` is the inverse times it, `line` the line of the inverse there.
    fn pivot(&mut self, entering: Var, position: usize, ahead: &[f64], line: &[(usize, f64)], step: f64) {
        let leaving = self.basis[position];
        let pivot = ahead[position];
        let reduced = match entering {
            Var::Column(column) => self.reduced[column],
            Var::Slack(row) => -self.prices[row],
        };
        let rate = reduced / pivot;
        for &(row, entry) in line {
            self.prices[row] += rate * entry;
        }
        for &column in &self.touched {
            self.reduced[column as usize] -= rate * self.pivot_row[column as usize];
        }
        let change = Change::new(ahead, position);
        for &(row, entry) in line {
            change.apply(&mut self.inverse[row], entry);
        }
        for &(at, value) in &change.support {
            self.values[at] -= step * value;
        }
        self.values[position] = step;
        match leaving {
            Var::Column(column) => {
                self.column_at[column] = None;
                self.reduced[column] = -rate;
            }
            Var::Slack(row) => self.slack_at[row] = None,
        }
        match entering {
            Var::Column(column) => {
                self.column_at[column] = Some(position as u32);
                self.reduced[column] = 0.0;
            }
            Var::Slack(row) => {
                self.slack_at[row] = Some(position as u32);
                self.prices[row] = 0.0;
            }
        }
        self.basis[position] = entering;
        self.pivots += 1;
        self.since_fresh += 1;
        if self.since_fresh >= FRESH {
            self.refresh();
        }
    }

    /// Makes the inverse anew from the basis at hand.
    fn refresh(&mut self) {
        let basis = std::mem::take(&mut self.basis);
        self.rebuild(&basis);
    }

    /// Inverts a basis. Rows that it leaves over have their slacks in it.
    fn rebuild(&mut self, basis: &[Var]) {
        let rows = self.rows.len();
        self.basis = (0..rows).map(Var::Slack).collect();
        self.slack_at = (0..rows).map(|row| Some(row as u32)).collect();
        self.column_at.fill(None);
        self.inverse.resize_with(rows, Vec::new);
        self.inverse.truncate(rows);
        for (row, inverse) in self.inverse.iter_mut().enumerate() {
            inverse.clear();
            inverse.resize(rows, 0.0);
            inverse[row] = 1.0;
        }
        // Rows whose slack stays basic take no column.
        let mut stays = vec![false; rows];
        let mut order: Vec<usize> = Vec::new();
        for &var in basis {
            match var {
                Var::Column(column) => order.push(column),
                Var::Slack(row) => stays[row] = true,
            }
        }
        // Short columns first: they fill the inverse least.
        order.sort_by_key(|&column| (self.columns[column].entries.len(), column));
        let mut ahead = Vec::new();
        for column in order {
            self.ahead(Var::Column(column), &mut ahead);
            let mut best: (f64, Option<usize>) = (1e-9, None);
            for (at, &value) in ahead.iter().enumerate() {
                let Var::Slack(row) = self.basis[at] else { continue };
                if !stays[row] && value.abs() > best.0 {
                    best = (value.abs(), Some(at));
                }
            }
            let Some(position) = best.1 else { continue };
            let Var::Slack(leaving) = self.basis[position] else { continue };
            let change = Change::new(&ahead, position);
            for inverse in &mut self.inverse {
                let entry = inverse[position];
                if entry != 0.0 {
                    change.apply(inverse, entry);
                }
            }
            self.slack_at[leaving] = None;
            self.column_at[column] = Some(position as u32);
            self.basis[position] = Var::Column(column);
        }
        self.values.clear();
        self.values.resize(rows, 0.0);
        for (row, inverse) in self.rows.iter().zip(&self.inverse) {
            if row.bound != 0.0 {
                for (value, entry) in self.values.iter_mut().zip(inverse) {
                    *value += row.bound * entry;
                }
            }
        }
        self.since_fresh = 0;
        self.refresh_costs();
    }

    /// Prices and reduced costs from the inverse.
    fn refresh_costs(&mut self) {
        let costs: Vec<(usize, f64)> = self
            .basis
            .iter()
            .enumerate()
            .map(|(at, &var)| (at, self.cost_of(var)))
            .filter(|&(_, cost)| cost != 0.0)
            .collect();
        for (price, inverse) in self.prices.iter_mut().zip(&self.inverse) {
            *price = costs.iter().map(|&(at, cost)| cost * inverse[at]).sum();
        }
        for (index, column) in self.columns.iter().enumerate() {
            self.reduced[index] = if self.column_at[index].is_some() {
                0.0
            } else {
                let paid: f64 =
                    column.entries.iter().map(|&(row, value)| self.prices[row as usize] * f64::from(value)).sum();
                column.cost - paid
            };
        }
    }
}

/// How a pivot changes the lines of the inverse.
struct Change<'a> {
    /// The inverse times what enters.
    ahead: &'a [f64],
    position: usize,
    /// Its entries in other positions.
    support: Vec<(usize, f64)>,
    is_dense: bool,
}

impl<'a> Change<'a> {
    fn new(ahead: &'a [f64], position: usize) -> Self {
        let others = ahead.iter().copied().enumerate();
        let support: Vec<_> = others.filter(|&(at, value)| at != position && value.abs() > 1e-12).collect();
        let is_dense = support.len() * 4 > ahead.len();
        Change { ahead, position, support, is_dense }
    }

    /// Changes a line that has this entry in the position of the pivot.
    fn apply(&self, line: &mut [f64], entry: f64) {
        let scaled = entry / self.ahead[self.position];
        if self.is_dense {
            // All of it, in step with the processor: what is 0 stays 0.
            for (own, value) in line.iter_mut().zip(self.ahead) {
                *own -= value * scaled;
            }
        } else {
            for &(at, value) in &self.support {
                line[at] -= value * scaled;
            }
        }
        line[self.position] = scaled;
    }
}

/// Numbers what is kept, in order.
fn number(keep: &[bool]) -> Vec<Option<usize>> {
    let mut next = 0;
    let numbers = keep.iter().map(|&kept| {
        next += usize::from(kept);
        kept.then(|| next - 1)
    });
    numbers.collect()
}

fn retain<T>(list: &mut Vec<T>, keep: &[bool]) {
    let mut index = 0;
    list.retain(|_| {
        index += 1;
        keep[index - 1]
    });
}

fn renumber(entries: &mut Vec<(u32, f32)>, numbers: &[Option<usize>]) {
    entries.retain_mut(|entry| match numbers[entry.0 as usize] {
        Some(number) => {
            entry.0 = number as u32;
            true
        }
        None => false,
    });
}

//! A bounded revised simplex for the master program of column generation.
//!
//! The program is: minimise `c x` with one convexity row `sum x = 1` for each dish and any number of rows `a x <= b`, `b >= 0`,
//! `x >= 0`. Each convexity row has a built-in artificial column of a large cost, so that there is always a feasible basis to
//! start from or to fall back to. Columns and rows come and go while the basis stays warm: new columns enter by primal
//! steps, new rows and columns that are switched off are repaired by the dual simplex.
//!
//! Nothing here has to be exact: bounds are worked out from rounded prices in integers, so that round-off can only weaken
//! them.

mod dual;
mod inverse;
mod primal;

use inverse::Inverse;

/// Values below this count as zero.
const ZERO: f64 = 1e-9;
/// Reduced costs above minus this count as not negative.
const DUAL: f64 = 1e-7;
/// How far a basic value may lie outside its bounds.
const PRIMAL: f64 = 1e-7;
/// Pivots smaller than this are not made.
const PIVOT: f64 = 1e-7;

/// How a solve ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Solved {
    /// The basis is optimal.
    Optimal,
    /// The pivots ran out, or round-off got the better of it.
    Stuck,
}

/// A column: a structural one, a slack or an artificial.
#[derive(Clone, Debug)]
struct Column {
    cost: f64,
    entries: Vec<(u32, f64)>,
    /// A closed column must be zero.
    open: bool,
    /// Position in the basis.
    basic: Option<u32>,
    /// Devex reference weight.
    weight: f64,
    reduced: f64,
}

/// The program with its current basis.
#[derive(Clone, Debug)]
pub(crate) struct Simplex {
    columns: Vec<Column>,
    rhs: Vec<f64>,
    /// For each row its slack, or its artificial for a convexity row.
    logical: Vec<usize>,
    /// Which column is basic at each position.
    basis: Vec<usize>,
    values: Vec<f64>,
    inverse: Inverse,
    prices: Vec<f64>,
    pivots: u64,
    since_inversion: usize,
    /// Room for a column in terms of the basis, and for a row.
    alpha: Vec<f64>,
}

/// A basis to come back to.
pub(crate) struct Saved {
    basis: Vec<usize>,
    values: Vec<f64>,
    prices: Vec<f64>,
    inverse: Inverse,
    since_inversion: usize,
}

impl Simplex {
    /// A program with so many convexity rows, whose artificials cost this much.
    pub(crate) fn new(dishes: usize, artificial: f64) -> Self {
        let mut simplex = Simplex {
            columns: Vec::new(),
            rhs: Vec::new(),
            logical: Vec::new(),
            basis: Vec::new(),
            values: Vec::new(),
            inverse: Inverse::default(),
            prices: Vec::new(),
            pivots: 0,
            since_inversion: 0,
            alpha: Vec::new(),
        };
        for _ in 0..dishes {
            simplex.append_row(1.0, artificial, &[]);
        }
        simplex
    }

    /// Adds a row `sum <= rhs` over existing columns, each given at most once. Returns its index.
    pub(crate) fn add_row(&mut self, rhs: f64, entries: &[(usize, f64)]) -> usize {
        self.append_row(rhs, 0.0, entries)
    }

    fn append_row(&mut self, rhs: f64, cost: f64, entries: &[(usize, f64)]) -> usize {
        let row = self.rhs.len();
        let mut basic = Vec::new();
        let mut value = rhs;
        for &(column, coefficient) in entries {
            self.columns[column].entries.push((row as u32, coefficient));
            if let Some(position) = self.columns[column].basic {
                basic.push((position as usize, coefficient));
                value -= coefficient * self.values[position as usize];
            }
        }
        self.inverse.grow(&basic);
        self.logical.push(self.columns.len());
        self.basis.push(self.columns.len());
        self.columns.push(Column {
            cost,
            entries: vec![(row as u32, 1.0)],
            open: true,
            basic: Some(row as u32),
            weight: 1.0,
            reduced: 0.0,
        });
        self.rhs.push(rhs);
        self.values.push(value);
        self.prices.push(cost);
        row
    }

    /// Adds a column over existing rows. Returns its index.
    pub(crate) fn add_column(&mut self, cost: f64, entries: Vec<(usize, f64)>) -> usize {
        let entries = entries.into_iter().map(|(row, coefficient)| (row as u32, coefficient)).collect();
        self.columns.push(Column { cost, entries, open: true, basic: None, weight: 1.0, reduced: 0.0 });
        self.columns.len() - 1
    }

    /// Switches a column on or off; one that is off is zero.
    pub(crate) fn set_open(&mut self, column: usize, open: bool) {
        self.columns[column].open = open;
    }

    /// Goes on from the last basis until it is optimal, at most so many pivots.
    pub(crate) fn solve(&mut self, pivots: usize) -> Solved {
        let limit = self.pivots + pivots as u64;
        for attempt in 0..3 {
            let again = attempt == 1 || self.is_stale();
            if attempt == 2 || again && !self.reinvert() {
                self.start_cold();
            }
            self.refresh();
            if self.repair(limit) && self.improve(limit) && self.is_clean() {
                return Solved::Optimal;
            }
            if self.pivots >= limit {
                return Solved::Stuck;
            }
        }
        Solved::Stuck
    }

    /// The value of the current basis.
    pub(crate) fn objective(&self) -> f64 {
        self.basis.iter().zip(&self.values).map(|(&column, value)| self.columns[column].cost * value).sum()
    }

    /// The value of a column.
    pub(crate) fn value(&self, column: usize) -> f64 {
        self.columns[column].basic.map_or(0.0, |position| self.values[position as usize])
    }

    /// The dual price of a row: not positive for `<=`. A column's reduced cost is its cost less prices times entries.
    pub(crate) fn price(&self, row: usize) -> f64 {
        self.prices[row]
    }

    /// The reduced cost of a column.
    pub(crate) fn reduced(&self, column: usize) -> f64 {
        let column = &self.columns[column];
        column.cost - column.entries.iter().map(|&(row, a)| self.prices[row as usize] * a).sum::<f64>()
    }

    /// How much of a row is unused.
    pub(crate) fn slack(&self, row: usize) -> f64 {
        self.value(self.logical[row])
    }

    /// Pivots made so far.
    pub(crate) fn pivots(&self) -> u64 {
        self.pivots
    }

    /// Number of rows.
    pub(crate) fn rows(&self) -> usize {
        self.rhs.len()
    }

    /// Whether a column is in the basis.
    pub(crate) fn is_basic(&self, column: usize) -> bool {
        self.columns[column].basic.is_some()
    }

    /// Whether a row's slack is in the basis, so that the row could be dropped.
    pub(crate) fn is_idle(&self, row: usize) -> bool {
        self.columns[self.logical[row]].basic.is_some()
    }

    /// Drops columns and rows. Basic columns and rows that are not idle stay whatever is asked. Returns the new index of each
    /// column and of each row.
    pub(crate) fn purge(
        &mut self,
        keep_column: impl Fn(usize) -> bool,
        keep_row: impl Fn(usize) -> bool,
    ) -> (Vec<Option<usize>>, Vec<Option<usize>>) {
        let rows = self.rhs.len();
        let stays: Vec<bool> = (0..rows).map(|row| !self.is_idle(row) || keep_row(row)).collect();
        let mut is_logical = vec![None; self.columns.len()];
        for (row, &column) in self.logical.iter().enumerate() {
            is_logical[column] = Some(row);
        }
        let mut row_at = vec![None; rows];
        let mut next = 0;
        for row in 0..rows {
            if stays[row] {
                row_at[row] = Some(next);
                next += 1;
            }
        }
        // A dropped row goes with the position at which its slack is basic.
        let leaving: Vec<bool> =
            (0..rows).map(|position| is_logical[self.basis[position]].is_some_and(|row: usize| !stays[row])).collect();
        self.inverse.drop(&leaving, &stays);
        let mut column_at = vec![None; self.columns.len()];
        let mut columns = Vec::new();
        for (index, mut column) in std::mem::take(&mut self.columns).into_iter().enumerate() {
            let stay = match is_logical[index] {
                Some(row) => stays[row],
                None => column.basic.is_some() || keep_column(index),
            };
            if stay {
                column_at[index] = Some(columns.len());
                column.entries.retain_mut(|entry| match row_at[entry.0 as usize] {
                    Some(row) => {
                        entry.0 = row as u32;
                        true
                    }
                    None => false,
                });
                columns.push(column);
            }
        }
        self.columns = columns;
        let kept = |index: usize| column_at[index].unwrap_or(0);
        self.logical = (0..rows).filter(|&row| stays[row]).map(|row| kept(self.logical[row])).collect();
        let positions = || (0..rows).filter(|&position| !leaving[position]);
        self.basis = positions().map(|position| kept(self.basis[position])).collect();
        self.values = positions().map(|position| self.values[position]).collect();
        self.rhs = (0..rows).filter(|&row| stays[row]).map(|row| self.rhs[row]).collect();
        self.prices = (0..rows).filter(|&row| stays[row]).map(|row| self.prices[row]).collect();
        for (position, &column) in self.basis.iter().enumerate() {
            self.columns[column].basic = Some(position as u32);
        }
        (column_at, row_at)
    }

    /// The basis of slacks and artificials, which is feasible whatever is switched off.
    fn start_cold(&mut self) {
        for &column in &self.basis {
            self.columns[column].basic = None;
        }
        self.basis.clone_from(&self.logical);
        for (position, &column) in self.basis.iter().enumerate() {
            self.columns[column].basic = Some(position as u32);
        }
        self.inverse.reset(self.rhs.len());
        self.since_inversion = 0;
    }

    /// Works out the inverse of the current basis anew. False if the basis is singular.
    fn reinvert(&mut self) -> bool {
        let wanted: Vec<usize> = self.basis.clone();
        self.start_cold();
        // Slacks and artificials that are wanted stay where they are.
        let mut free = vec![true; self.basis.len()];
        for (position, column) in self.basis.iter().enumerate() {
            free[position] = !wanted.contains(column);
        }
        for column in wanted {
            if self.columns[column].basic.is_some() {
                continue;
            }
            self.load_alpha(column);
            let positions = (0..self.alpha.len()).filter(|&position| free[position]);
            match positions.max_by(|&a, &b| self.alpha[a].abs().total_cmp(&self.alpha[b].abs())) {
                Some(position) if self.alpha[position].abs() > PIVOT => {
                    self.swap(position, column);
                    free[position] = false;
                }
                _ => return false,
            }
        }
        self.since_inversion = 0;
        true
    }

    /// Values, prices and reduced costs from the inverse.
    fn refresh(&mut self) {
        self.inverse.times(&self.rhs, &mut self.values);
        let costs: Vec<f64> = self.basis.iter().map(|&column| self.columns[column].cost).collect();
        self.inverse.prices(&costs, &mut self.prices);
        for column in &mut self.columns {
            column.reduced = if column.basic.is_some() {
                0.0
            } else {
                column.cost - column.entries.iter().map(|&(row, a)| self.prices[row as usize] * a).sum::<f64>()
            };
        }
    }

    /// Round-off has had enough pivots to build up.
    fn is_stale(&self) -> bool {
        self.since_inversion > 100 && self.since_inversion > self.rhs.len() / 2
    }

    /// The basis as it is, to come back to.
    pub(crate) fn save(&self) -> Saved {
        Saved {
            basis: self.basis.clone(),
            values: self.values.clone(),
            prices: self.prices.clone(),
            inverse: self.inverse.clone(),
            since_inversion: self.since_inversion,
        }
    }

    /// Back to a saved basis; rows and columns must be the same ones.
    pub(crate) fn load(&mut self, saved: Saved) {
        for &column in &self.basis {
            self.columns[column].basic = None;
        }
        for (position, &column) in saved.basis.iter().enumerate() {
            self.columns[column].basic = Some(position as u32);
        }
        self.basis = saved.basis;
        self.values = saved.values;
        self.prices = saved.prices;
        self.inverse = saved.inverse;
        self.since_inversion = saved.since_inversion;
    }

    /// Nothing lies outside its bounds after the last pivot.
    fn is_clean(&mut self) -> bool {
        self.refresh();
        let values = self.basis.iter().zip(&self.values);
        let inside = |(&column, &value): (&usize, &f64)| value > -1e-6 && (self.columns[column].open || value < 1e-6);
        values.clone().all(inside)
            && self.columns.iter().all(|column| !column.open || column.basic.is_some() || column.reduced > -1e-6)
    }

    /// Writes a column in terms of the basis into `alpha`.
    fn load_alpha(&mut self, column: usize) {
        self.inverse.times_sparse(&self.columns[column].entries, &mut self.alpha);
    }

    /// Puts a column into the basis at a position; `alpha` holds it in terms of the basis.
    fn swap(&mut self, position: usize, column: usize) {
        self.inverse.pivot(position, &self.alpha);
        let leaving = std::mem::replace(&mut self.basis[position], column);
        self.columns[leaving].basic = None;
        self.columns[column].basic = Some(position as u32);
        self.since_inversion += 1;
    }
}

#[cfg(test)]
mod tests;

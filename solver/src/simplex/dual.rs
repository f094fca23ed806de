//! Dual steps: a basic column outside its bounds leaves.

use super::{DUAL, PIVOT, PRIMAL, Simplex};

impl Simplex {
    /// Steps until every basic column lies within its bounds. Columns that would save something are left to the primal
    /// steps. False if no column can take over or the limit of pivots came first.
    pub(super) fn repair(&mut self, limit: u64) -> bool {
        loop {
            let Some((position, upward)) = self.farthest_out() else { return true };
            if self.pivots >= limit {
                return false;
            }
            let Some(entering) = self.cheapest_relief(position, upward) else { return false };
            self.load_alpha(entering);
            let pivot = self.alpha[position];
            if pivot.abs() < PIVOT {
                return false;
            }
            let step = self.values[position] / pivot;
            self.step(entering, position, step);
        }
    }

    /// The position farthest outside its bounds, and whether its value must rise.
    fn farthest_out(&self) -> Option<(usize, bool)> {
        let mut best: Option<(f64, usize, bool)> = None;
        for (position, &value) in self.values.iter().enumerate() {
            let out = if value < -PRIMAL {
                (-value, true)
            } else if value > PRIMAL && !self.columns[self.basis[position]].open {
                (value, false)
            } else {
                continue;
            };
            if best.is_none_or(|(most, ..)| out.0 > most) {
                best = Some((out.0, position, out.1));
            }
        }
        best.map(|(_, position, upward)| (position, upward))
    }

    /// Of the columns that bring the value back the one whose reduced cost turns last; of near equals the largest pivot.
    fn cheapest_relief(&self, position: usize, upward: bool) -> Option<usize> {
        let rho = self.inverse.row(position);
        let mut candidates: Vec<(f64, f64, usize)> = Vec::new();
        for (index, column) in self.columns.iter().enumerate() {
            if column.basic.is_some() || !column.open || column.reduced < -DUAL {
                continue;
            }
            let along: f64 = column.entries.iter().map(|&(row, a)| rho[row as usize] * a).sum();
            let along = if upward { -along } else { along };
            if along > PIVOT {
                candidates.push((column.reduced.max(0.0), along, index));
            }
        }
        let reach = candidates.iter().map(|&(cost, along, _)| (cost + DUAL) / along).fold(f64::INFINITY, f64::min);
        let near = candidates.into_iter().filter(|&(cost, along, _)| cost / along <= reach);
        near.max_by(|a, b| a.1.total_cmp(&b.1).then(b.2.cmp(&a.2))).map(|(_, _, index)| index)
    }
}

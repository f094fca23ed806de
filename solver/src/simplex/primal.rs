//! Primal steps: a column that saves something enters.

use super::{DUAL, PIVOT, PRIMAL, Simplex};

impl Simplex {
    /// Steps until no open column saves anything. False if the limit of pivots came first or a pivot went wrong.
    pub(super) fn improve(&mut self, limit: u64) -> bool {
        for column in &mut self.columns {
            column.weight = 1.0;
        }
        let mut stalled = 0_u32;
        loop {
            // After many steps without progress the first column that saves anything enters: no cycle gets past that.
            let Some(entering) = (if stalled > 400 { self.first_saving() } else { self.most_saving() }) else {
                return true;
            };
            if self.pivots >= limit {
                return false;
            }
            self.load_alpha(entering);
            let Some(position) = self.first_blocking() else { return false };
            let step = (self.values[position].max(0.0) / self.alpha[position]).max(0.0);
            let step = if self.alpha[position] < 0.0 { 0.0 } else { step };
            stalled = if step > 1e-12 { 0 } else { stalled + 1 };
            self.step(entering, position, step);
        }
    }

    fn most_saving(&self) -> Option<usize> {
        let mut best: Option<(f64, usize)> = None;
        for (index, column) in self.columns.iter().enumerate() {
            if column.reduced < -DUAL && column.open && column.basic.is_none() {
                let score = column.reduced * column.reduced / column.weight;
                if best.is_none_or(|(most, _)| score > most) {
                    best = Some((score, index));
                }
            }
        }
        best.map(|(_, index)| index)
    }

    fn first_saving(&self) -> Option<usize> {
        self.columns.iter().position(|column| column.reduced < -DUAL && column.open && column.basic.is_none())
    }

    /// Harris: of all positions that block within a tolerance the one with the largest pivot.
    fn first_blocking(&self) -> Option<usize> {
        let mut reach = f64::INFINITY;
        for position in 0..self.alpha.len() {
            let alpha = self.alpha[position];
            let room = self.room(position, alpha);
            if let Some(room) = room {
                reach = reach.min((room + PRIMAL) / alpha.abs());
            }
        }
        let mut best: Option<(f64, usize)> = None;
        for position in 0..self.alpha.len() {
            let alpha = self.alpha[position];
            if let Some(room) = self.room(position, alpha)
                && room / alpha.abs() <= reach
                && best.is_none_or(|(largest, _)| alpha.abs() > largest)
            {
                best = Some((alpha.abs(), position));
            }
        }
        best.map(|(_, position)| position)
    }

    /// How far the basic column at a position may move; none if this step does not hurt it.
    fn room(&self, position: usize, alpha: f64) -> Option<f64> {
        if alpha > PIVOT {
            Some(self.values[position].max(0.0))
        } else if alpha < -PIVOT && !self.columns[self.basis[position]].open {
            Some(0.0)
        } else {
            None
        }
    }

    /// Moves along and pivots, with values, prices, reduced costs and weights.
    pub(super) fn step(&mut self, entering: usize, position: usize, step: f64) {
        let pivot = self.alpha[position];
        for (value, alpha) in self.values.iter_mut().zip(&self.alpha) {
            *value -= step * alpha;
        }
        self.values[position] = step;
        self.update_reduced(entering, position, pivot);
        self.swap(position, entering);
        self.pivots += 1;
    }

    /// Reduced costs and Devex weights after `entering` takes a position.
    fn update_reduced(&mut self, entering: usize, position: usize, pivot: f64) {
        let rho = self.inverse.row(position);
        let ratio = self.columns[entering].reduced / pivot;
        let weight = self.columns[entering].weight;
        let leaving = self.basis[position];
        for (price, value) in self.prices.iter_mut().zip(rho) {
            *price += ratio * value;
        }
        for column in &mut self.columns {
            if column.basic.is_some() {
                continue;
            }
            let along: f64 = column.entries.iter().map(|&(row, a)| rho[row as usize] * a).sum();
            if along != 0.0 {
                column.reduced -= ratio * along;
                let share = along / pivot;
                column.weight = column.weight.max(share * share * weight);
            }
        }
        let left = &mut self.columns[leaving];
        left.reduced = -ratio;
        left.weight = (weight / (pivot * pivot)).max(1.0);
        self.columns[entering].reduced = 0.0;
    }
}

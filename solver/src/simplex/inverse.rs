//! The inverse of the basis, dense, by rows.

use super::ZERO;

/// Row `i` belongs to the `i`-th basic column, column `j` to the `j`-th row of the program.
#[derive(Clone, Debug, Default)]
pub(super) struct Inverse {
    rows: Vec<Vec<f64>>,
    /// Nonzeros of the pivot row, reused.
    nonzeros: Vec<(u32, f64)>,
}

impl Inverse {
    /// The identity.
    pub(super) fn reset(&mut self, size: usize) {
        self.rows.resize_with(size, Vec::new);
        for (index, row) in self.rows.iter_mut().enumerate() {
            row.clear();
            row.resize(size, 0.0);
            row[index] = 1.0;
        }
    }

    /// One more row of the program, with a slack that is basic; `basic` are the entries of basic columns in it.
    pub(super) fn grow(&mut self, basic: &[(usize, f64)]) {
        let size = self.rows.len();
        let mut last = vec![0.0; size + 1];
        last[size] = 1.0;
        for &(position, coefficient) in basic {
            for (sum, &value) in last.iter_mut().zip(&self.rows[position]) {
                *sum -= coefficient * value;
            }
        }
        for row in &mut self.rows {
            row.push(0.0);
        }
        self.rows.push(last);
    }

    /// Takes away positions of the basis and rows of the program.
    pub(super) fn drop(&mut self, positions: &[bool], stays: &[bool]) {
        let mut position = 0;
        self.rows.retain(|_| {
            position += 1;
            !positions[position - 1]
        });
        for row in &mut self.rows {
            let mut index = 0;
            row.retain(|_| {
                index += 1;
                stays[index - 1]
            });
        }
    }

    /// The row of a basic column.
    pub(super) fn row(&self, position: usize) -> &[f64] {
        &self.rows[position]
    }

    /// The inverse times a dense vector.
    pub(super) fn times(&self, vector: &[f64], out: &mut Vec<f64>) {
        out.clear();
        out.extend(self.rows.iter().map(|row| row.iter().zip(vector).map(|(a, b)| a * b).sum::<f64>()));
    }

    /// The inverse times a sparse vector.
    pub(super) fn times_sparse(&self, vector: &[(u32, f64)], out: &mut Vec<f64>) {
        out.clear();
        out.extend(self.rows.iter().map(|row| vector.iter().map(|&(index, a)| row[index as usize] * a).sum::<f64>()));
    }

    /// Costs of the basic columns times the inverse.
    pub(super) fn prices(&self, costs: &[f64], out: &mut Vec<f64>) {
        out.clear();
        out.resize(self.rows.len(), 0.0);
        for (row, &cost) in self.rows.iter().zip(costs) {
            if cost != 0.0 {
                for (sum, &value) in out.iter_mut().zip(row) {
                    *sum += cost * value;
                }
            }
        }
    }

    /// A column that reads `alpha` in terms of the basis takes a position.
    pub(super) fn pivot(&mut self, position: usize, alpha: &[f64]) {
        let mut pivot_row = std::mem::take(&mut self.rows[position]);
        let scale = 1.0 / alpha[position];
        self.nonzeros.clear();
        for (index, value) in pivot_row.iter_mut().enumerate() {
            if value.abs() > ZERO * 1e-3 {
                *value *= scale;
                self.nonzeros.push((index as u32, *value));
            } else {
                *value = 0.0;
            }
        }
        for (row, &factor) in self.rows.iter_mut().zip(alpha) {
            if factor.abs() > ZERO * 1e-3 && !row.is_empty() {
                for &(index, value) in &self.nonzeros {
                    row[index as usize] -= factor * value;
                }
            }
        }
        self.rows[position] = pivot_row;
    }
}

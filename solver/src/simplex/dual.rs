//! Dual pivots: values that are where they may not be leave the basis while reduced costs stay as they are.

use super::{PIVOT, Simplex, Solved, TOLERANCE, Var};

pub(super) fn run(simplex: &mut Simplex, last: u64) -> Solved {
    let mut ahead = Vec::new();
    let mut line = Vec::new();
    let mut weights = vec![1.0; simplex.basis.len()];
    loop {
        let Some(position) = leave(simplex, &weights) else { return Solved::Optimal };
        if simplex.pivots >= last {
            return Solved::Stuck;
        }
        let excess = simplex.excess(position);
        simplex.line(position, &mut line);
        let Some(entering) = enter(simplex, &line, excess < 0.0) else {
            return Solved::Stuck;
        };
        simplex.ahead(entering, &mut ahead);
        let pivot = ahead[position];
        if pivot.abs() < PIVOT / 10.0 {
            if simplex.since_fresh == 0 {
                return Solved::Stuck;
            }
            simplex.refresh();
            continue;
        }
        let step = simplex.values[position] / pivot;
        weigh(&mut weights, &ahead, position);
        simplex.pivot(entering, position, &ahead, &line, step);
    }
}

/// The position whose value is farthest from where it may be, by its Devex weight.
fn leave(simplex: &Simplex, weights: &[f64]) -> Option<usize> {
    let mut best: (f64, Option<usize>) = (0.0, None);
    for (position, weight) in weights.iter().enumerate() {
        let excess = simplex.excess(position).abs();
        if excess > TOLERANCE && excess * excess > best.0 * weight {
            best = (excess * excess / weight, Some(position));
        }
    }
    best.1
}

/// Updates the Devex weights for a pivot in a position.
fn weigh(weights: &mut [f64], ahead: &[f64], position: usize) {
    let pivot = ahead[position];
    let factor = weights[position] / (pivot * pivot);
    for (weight, &rate) in weights.iter_mut().zip(ahead) {
        if rate != 0.0 {
            *weight = weight.max(rate * rate * factor);
        }
    }
    weights[position] = factor.max(1.0);
}

/// The variable whose reduced cost reaches 0 first; within the tolerance, the one with the largest pivot.
///
/// Columns of negative reduced cost are left to the primal pivots that follow.
fn enter(simplex: &Simplex, line: &[(usize, f64)], below: bool) -> Option<Var> {
    let sign = if below { -1.0 } else { 1.0 };
    let columns = simplex.touched.iter().filter_map(|&column| {
        let index = column as usize;
        let open = simplex.column_at[index].is_none() && !simplex.columns[index].closed;
        let rate = sign * simplex.pivot_row[index];
        let reduced = simplex.reduced[index];
        (open && rate > PIVOT && reduced > -TOLERANCE).then_some((Var::Column(index), rate, reduced))
    });
    let slacks = line.iter().filter_map(|&(row, entry)| {
        let rate = sign * entry;
        let reduced = -simplex.prices[row];
        let open = simplex.slack_at[row].is_none() && !simplex.rows[row].equal;
        (open && rate > PIVOT && reduced > -TOLERANCE).then_some((Var::Slack(row), rate, reduced))
    });
    let candidates: Vec<(Var, f64, f64)> = columns.chain(slacks).collect();
    let reach = candidates.iter().map(|&(_, rate, reduced)| (reduced.max(0.0) + TOLERANCE) / rate);
    let reach = reach.fold(f64::INFINITY, f64::min);
    let mut best: (f64, Option<Var>) = (0.0, None);
    for (var, rate, reduced) in candidates {
        if reduced / rate <= reach && rate > best.0 {
            best = (rate, Some(var));
        }
    }
    best.1
}

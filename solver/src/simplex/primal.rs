//! Primal pivots: columns of negative reduced cost enter while the values stay where they may be.

use super::{PIVOT, Simplex, Solved, TOLERANCE, Var};

pub(super) fn run(simplex: &mut Simplex, last: u64) -> Solved {
    let mut ahead = Vec::new();
    let mut line = Vec::new();
    simplex.devex.fill(1.0);
    let mut slack_devex = vec![1.0_f64; simplex.rows.len()];
    let mut idle = 0;
    loop {
        // After many steps that lead nowhere the first that saves anything enters: few cycles get past that.
        let choice = if idle > 300 { first(simplex) } else { choose(simplex, &slack_devex) };
        let Some(entering) = choice else { return Solved::Optimal };
        if simplex.pivots >= last {
            return Solved::Stuck;
        }
        simplex.ahead(entering, &mut ahead);
        let Some(position) = block(simplex, &ahead) else { return Solved::Stuck };
        let step = (simplex.values[position] / ahead[position]).max(0.0);
        idle = if step > 1e-12 { 0 } else { idle + 1 };
        simplex.line(position, &mut line);
        weigh(simplex, entering, &mut slack_devex, ahead[position], &line, position);
        simplex.pivot(entering, position, &ahead, &line, step);
    }
}

/// The variable that promises most: reduced cost squared by its Devex weight.
fn choose(simplex: &Simplex, slack_devex: &[f64]) -> Option<Var> {
    let mut best: (f64, Option<Var>) = (0.0, None);
    for (column, &reduced) in simplex.reduced.iter().enumerate() {
        if reduced < -TOLERANCE && !simplex.columns[column].closed && simplex.column_at[column].is_none() {
            let gain = reduced * reduced / simplex.devex[column];
            if gain > best.0 {
                best = (gain, Some(Var::Column(column)));
            }
        }
    }
    for (row, &price) in simplex.prices.iter().enumerate() {
        if price > TOLERANCE && !simplex.rows[row].equal && simplex.slack_at[row].is_none() {
            let gain = price * price / slack_devex[row];
            if gain > best.0 {
                best = (gain, Some(Var::Slack(row)));
            }
        }
    }
    best.1
}

/// The first variable that saves anything.
fn first(simplex: &Simplex) -> Option<Var> {
    let column = (0..simplex.columns.len()).find(|&column| {
        simplex.reduced[column] < -TOLERANCE && !simplex.columns[column].closed && simplex.column_at[column].is_none()
    });
    let slack = || {
        (0..simplex.rows.len())
            .find(|&row| simplex.prices[row] > TOLERANCE && !simplex.rows[row].equal && simplex.slack_at[row].is_none())
    };
    column.map(Var::Column).or_else(|| slack().map(Var::Slack))
}

/// The position that blocks first; among those that block within the tolerance, the one with the largest pivot.
fn block(simplex: &Simplex, ahead: &[f64]) -> Option<usize> {
    let mut reach = f64::INFINITY;
    for (at, &rate) in ahead.iter().enumerate() {
        let value = simplex.values[at];
        if rate > PIVOT {
            reach = reach.min((value.max(0.0) + TOLERANCE) / rate);
        } else if rate < -PIVOT && !simplex.is_free(simplex.basis[at]) {
            reach = reach.min(TOLERANCE / -rate);
        }
    }
    if reach == f64::INFINITY {
        return None;
    }
    let mut best: (f64, Option<usize>) = (0.0, None);
    for (at, &rate) in ahead.iter().enumerate() {
        let blocks = if rate > PIVOT {
            simplex.values[at] / rate <= reach
        } else {
            rate < -PIVOT && !simplex.is_free(simplex.basis[at])
        };
        if blocks && rate.abs() > best.0 {
            best = (rate.abs(), Some(at));
        }
    }
    best.1
}

/// Updates the Devex weights for a pivot.
fn weigh(
    simplex: &mut Simplex,
    entering: Var,
    slack_devex: &mut [f64],
    pivot: f64,
    line: &[(usize, f64)],
    position: usize,
) {
    let weight = match entering {
        Var::Column(column) => simplex.devex[column],
        Var::Slack(row) => slack_devex[row],
    };
    let factor = weight / (pivot * pivot);
    for &column in &simplex.touched {
        let entry = simplex.pivot_row[column as usize];
        let own = &mut simplex.devex[column as usize];
        *own = own.max(entry * entry * factor);
    }
    for &(row, entry) in line {
        slack_devex[row] = slack_devex[row].max(entry * entry * factor);
    }
    match simplex.basis[position] {
        Var::Column(column) => simplex.devex[column] = factor.max(1.0),
        Var::Slack(row) => slack_devex[row] = factor.max(1.0),
    }
}

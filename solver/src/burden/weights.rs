//! The weights of the stocks under which the burdens take the most minutes.
//!
//! Let each step share itself out among its ways so that the fullest stock is as empty as can be: a linear program, whose
//! prices are the weights.

use super::Need;
use crate::simplex::{Simplex, Solved};

/// The prices of all stocks together, as whole numbers.
const SCALE: f64 = 1e6;
/// What it costs to leave a step out: more than to do all of them one after the other.
const MISSING: f64 = 4.0;
/// Pivots for one program.
const PIVOTS: u64 = 20_000;

/// The weights, if the program could be solved, and the pivots that took.
pub(super) fn best(jobs: &[&[Vec<Need>]], stocks: &[i64]) -> (Option<Vec<i64>>, u64) {
    // Minutes of the whole stock, and as a share of what all steps take one after the other.
    let minutes = |&(stock, need): &Need| need as f64 / stocks[stock].max(1) as f64;
    let longest = |ways: &[Vec<Need>]| ways.iter().flatten().map(minutes).fold(0.0, f64::max);
    let unit: f64 = jobs.iter().map(|ways| longest(ways)).sum::<f64>().max(1.0);
    let row = |stock: usize| jobs.len() + stock;
    let mut program = Simplex::new(jobs.len(), MISSING);
    for _ in stocks {
        program.add_row(0.0, false, &[]);
    }
    let fullest: Vec<(usize, f32)> = (0..stocks.len()).map(|stock| (row(stock), -1.0)).collect();
    program.add_column(1.0, &fullest);
    for (job, ways) in jobs.iter().enumerate() {
        for way in ways.iter() {
            let needs = way.iter().map(|need| (row(need.0), (minutes(need) / unit) as f32));
            let entries: Vec<(usize, f32)> = std::iter::once((job, 1.0)).chain(needs).collect();
            program.add_column(0.0, &entries);
        }
    }
    let solved = program.solve(PIVOTS);
    let most = stocks.iter().copied().max().unwrap_or(1).max(1) as f64;
    // A price is for all of a stock, a weight for one of it.
    let weight = |stock: usize| {
        let price = -program.price(row(stock)) * SCALE * most / stocks[stock].max(1) as f64;
        price.round().clamp(0.0, SCALE * most) as i64
    };
    let weights = (solved == Solved::Optimal).then(|| (0..stocks.len()).map(weight).collect());
    (weights, program.pivots)
}

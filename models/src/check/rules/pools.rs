//! At each minute no more is taken from a pool than it has.

use crate::check::facts::{Facts, Run};
use crate::check::violation::Violation;
use crate::problem::Minute;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for (pool, &there) in &facts.problem.pools {
        let takers: Vec<(&Run<'_>, i64)> = facts
            .runs
            .iter()
            .filter_map(|run| Some((run, *run.mode.pools.get(pool).filter(|&&amount| amount > 0)?)))
            .collect();
        let intervals: Vec<[Minute; 2]> = takers.iter().map(|(run, _)| [run.start, run.end]).collect();
        let clashes = super::sweep::clashes(&intervals, |running| {
            let needed: i64 = running.iter().map(|&taker| takers[taker].1).sum();
            (needed > there).then_some(needed)
        });
        for (minute, running, needed) in clashes {
            let steps = super::ids(running.iter().map(|&taker| takers[taker].0));
            violations.push(Violation::Pool { pool: pool.clone(), minute, needed, there, steps });
        }
    }
}

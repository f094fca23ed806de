//! At each minute no more is taken from a pool than it has: by what runs, and by food that waits.

use std::collections::BTreeMap;

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::problem::Minute;

/// A step, or the food of a step that waits, that takes something from a pool.
struct Taker {
    step: String,
    span: [Minute; 2],
    amount: i64,
}

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for (pool, &there) in &facts.problem.pools {
        let takers = takers(facts, pool);
        let intervals: Vec<[Minute; 2]> = takers.iter().map(|taker| taker.span).collect();
        let clashes = super::sweep::clashes(&intervals, |running| {
            let needed: i64 = running.iter().map(|&taker| takers[taker].amount).sum();
            (needed > there).then_some(needed)
        });
        for (minute, running, needed) in clashes {
            let steps = running.iter().map(|&taker| takers[taker].step.clone()).collect();
            violations.push(Violation::Pool { pool: pool.clone(), minute, needed, there, steps });
        }
    }
}

fn takers(facts: &Facts<'_>, pool: &str) -> Vec<Taker> {
    let amount = |pools: &BTreeMap<String, i64>| pools.get(pool).copied().unwrap_or(0);
    let runs = facts.runs.iter().map(|run| Taker {
        step: run.id(),
        span: [run.start, run.end],
        amount: amount(&run.mode.pools),
    });
    let links = facts.problem.links.iter().map(|link| {
        let (from, to) = (facts.run(&link.from), facts.run(&link.to));
        Taker { step: from.id(), span: [from.end, to.start.max(from.end)], amount: amount(&link.pools) }
    });
    let sinks = facts.problem.courses.iter().zip(&facts.served).flat_map(|(course, &served)| {
        course.sinks.iter().map(move |sink| {
            let end = facts.run(&sink.step).end;
            Taker { step: sink.step.clone(), span: [end, served.max(end)], amount: amount(&sink.pools) }
        })
    });
    runs.chain(links).chain(sinks).filter(|taker| taker.amount > 0).collect()
}

//! The rules, one file each.

mod air;
mod changeover;
mod cooks;
mod courses;
mod door;
mod hands;
mod hob;
mod links;
mod lit;
mod modes;
mod pieces;
mod pools;
mod room;
mod stands;
pub(super) mod stated;
mod sweep;
mod times;
mod top;
mod touches;

use super::facts::{Facts, Run};
use super::violation::Violation;

/// Everything but what the plan states of itself.
pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    modes::check(facts, violations);
    times::check(facts, violations);
    links::check(facts, violations);
    courses::check(facts, violations);
    touches::check(facts, violations);
    match facts.problem.cooks.is_empty() {
        true => hands::check(facts, violations),
        false => cooks::check(facts, violations),
    }
    pools::check(facts, violations);
    hob::check(facts, violations);
    top::check(facts, violations);
    room::check(facts, violations);
    air::check(facts, violations);
    changeover::check(facts, violations);
    lit::check(facts, violations);
    door::check(facts, violations);
}

/// The ids of some runs, in their order.
fn ids<'a>(runs: impl IntoIterator<Item = &'a Run<'a>>) -> Vec<String> {
    runs.into_iter().map(Run::id).collect()
}

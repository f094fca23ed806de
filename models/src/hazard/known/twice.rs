//! Leftovers of leftovers.

use super::*;
use crate::hazard::{Finding, Night, Spell};
use crate::menu::Kind;

pub(super) const HAZARD: Hazard = Hazard {
    code: "heated-up-twice",
    what: "cooked food is cooled and heated up more than once",
    topic: Topic::Reheating,
    looks_at: "steps that heat up food which was cooked and has been cold",
    verdict: "caution",
    remedy: "heat up only what is eaten",
    source: |_| memory("FSA: reheat food only once"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let warms = |own: &&Spell<'_>| {
            own.label.kind == Kind::Reheat
                && own.perishable(true).is_some()
                && own.before.iter().any(|&before| night.spells[before].is_cold())
        };
        if let Some(second) = night.of_dish(&dish.id).filter(warms).nth(1) {
            let text = format!("{} is heated up twice: once only, and only as much as is eaten", second.dish.name);
            found.push(Finding::new(Weight::Caution, text, &[second]));
        }
    }
    found
}

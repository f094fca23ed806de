//! Flour is raw.

use super::*;
use crate::hazard::{Finding, Night};

const WORDS: &[&str] = &["raw dough", "cookie dough", "raw cookie dough", "raw flour", "raw batter", "cake batter"];
const SAFE: &[&str] = &["heat treated", "edible", "baked"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-flour",
    what: "dough or batter is eaten raw",
    topic: Topic::Undercooked,
    looks_at: "words for raw dough in dishes that nothing heats",
    verdict: "caution",
    remedy: "bake it, or use flour that was heat-treated by its maker",
    source: |_| memory("FDA: flour is a raw food; no raw dough or batter is eaten"),
    find,
};

/// Dishes that say such a word, and that nothing heats.
fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let steps: Vec<_> = night.of_dish(&dish.id).collect();
        let heated = steps.iter().any(|own| own.facts.warmth == Warmth::Through);
        if let Some(own) = steps.iter().find(|own| !heated && own.says(WORDS) && !own.says(SAFE)) {
            let text =
                format!("{} has raw flour: bake it, or use flour that its maker has heat-treated", own.dish.name);
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}

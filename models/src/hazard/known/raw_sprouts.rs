//! Sprouted seeds grow in what germs like.

use super::*;
use crate::hazard::{Finding, Night};

const WORDS: &[&str] = &[
    "beansprout",
    "bean sprout",
    "mung sprout",
    "alfalfa",
    "sprouted seed",
    "sprouted bean",
    "clover sprout",
    "radish sprout",
];

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-sprouts",
    what: "sprouted seeds and beans are eaten raw",
    topic: Topic::Undercooked,
    looks_at: "words for sprouted seeds in dishes that nothing heats",
    verdict: "caution",
    remedy: "cook them until they steam, or leave them out for those at risk",
    source: |_| {
        memory(
            "FDA and FSA: sprouted seeds cooked through, above all for the very young, the old, the pregnant and the ill",
        )
    },
    find,
};

/// Dishes that say such a word, and that nothing heats.
fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let steps: Vec<_> = night.of_dish(&dish.id).collect();
        let heated = steps.iter().any(|own| own.facts.warmth == Warmth::Through);
        if let Some(own) = steps.iter().find(|own| !heated && own.says(WORDS)) {
            let text = format!(
                "{} has raw sprouts: not for the very young, the old, the pregnant or the ill; cook them until they steam",
                own.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}

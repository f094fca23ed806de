//! Milk that nobody has pasteurised.

use super::*;
use crate::hazard::{Finding, Night};

const WORDS: &[&str] = &["raw milk", "raw cream", "unpasteurised", "unpasteurized"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-milk",
    what: "milk or cream is neither pasteurised nor heated",
    topic: Topic::Undercooked,
    looks_at: "words for raw milk and cream in dishes that nothing heats",
    verdict: "caution",
    remedy: "pasteurised milk, or heat it through",
    source: |_| {
        memory(
            "FDA and FSA: raw milk may carry germs, and is not for the very young, the old, the pregnant and the ill",
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
                "{} has milk that is not pasteurised, and nothing heats it: not for the very young, the old, the pregnant or the ill",
                own.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}

//! Milk that nobody has pasteurised.

use super::*;
use crate::hazard::{Finding, Night};

const WORDS: &[&str] = &["raw milk", "raw cream", "unpasteurised", "unpasteurized"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-milk",
    what: "milk or cream is neither pasteurised nor heated",
    topic: Topic::Undercooked,
    looks_at: "words for raw milk and cream that nothing heats from there on",
    verdict: "caution",
    remedy: "pasteurised milk, or heat it through",
    source: |_| {
        memory(
            "FDA and FSA: raw milk may carry germs, and is not for the very young, the old, the pregnant and the ill",
        )
    },
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let text = |dish: &str| {
        format!(
            "{dish} has milk that is not pasteurised, and nothing heats it: not for the very young, the old, the pregnant or the ill"
        )
    };
    let found = unheated(night, WORDS, &[]).into_iter();
    found.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}

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
    looks_at: "words for sprouted seeds that nothing heats from there on",
    verdict: "caution",
    remedy: "cook them until they steam, or leave them out for those at risk",
    source: |_| {
        memory(
            "FDA and FSA: sprouted seeds cooked through, above all for the very young, the old, the pregnant and the ill",
        )
    },
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let text = |dish: &str| {
        format!(
            "{dish} has raw sprouts: not for the very young, the old, the pregnant or the ill; cook them until they steam"
        )
    };
    let found = unheated(night, WORDS, &[]).into_iter();
    found.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}

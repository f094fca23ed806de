//! Honey is not for babies.

use super::*;
use crate::hazard::{Finding, Night};

const BABY: &[&str] = &["baby", "baby s", "babies", "infant", "newborn"];
const NOT_THEM: &[&str] = &[
    "baby carrot",
    "baby leaf",
    "baby leaves",
    "baby spinach",
    "baby potatoes",
    "baby beet",
    "baby corn",
    "baby gem",
    "baby leek",
];

pub(super) const HAZARD: Hazard = Hazard {
    code: "honey-for-a-baby",
    what: "honey is given to children under a year, even cooked",
    topic: Topic::Diet,
    looks_at: "honey, and words for babies in the dish or among the diets",
    verdict: "caution",
    remedy: "another sweetener, or a dish without for them",
    source: |_| memory("CDC and NHS: no honey before twelve months, infant botulism"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let among = night.labels.diets.iter().any(|diet| {
        crate::larder::tokens(&diet.name)
            .iter()
            .any(|word| BABY.contains(&word.trim_end_matches('s')) || word == "babies")
    });
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let steps: Vec<_> = night.of_dish(&dish.id).collect();
        let named = steps.iter().any(|own| own.says(BABY) && !own.says(NOT_THEM));
        if let Some(own) = steps.iter().find(|own| own.says(&["honey"])).filter(|_| among || named) {
            let text = format!("{} has honey: never for a child under a year, not even cooked", own.dish.name);
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}

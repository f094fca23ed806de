//! Eggs that nobody cooks.

use super::*;
use crate::hazard::{Finding, Night};
use crate::larder::{Food, Known};

/// Words for what is bought pasteurised, and for what is mostly bought ready.
const SAFE: &[&str] = &["pasteurised", "pasteurized", "jar", "bought", "shop", "boiled", "hard boiled", "cooked"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-egg",
    what: "eggs are eaten raw",
    topic: Topic::RawEgg,
    looks_at: "dishes with egg that nothing heats",
    verdict: "caution",
    remedy: "pasteurised eggs, or heat them to 71 C (160 F)",
    source: |_| read("USDA FSIS Safe Minimum Internal Temperature Chart (14 April 2025)"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let steps: Vec<_> = night.of_dish(&dish.id).collect();
        let Some(first) = steps.first().filter(|own| own.contents().has(Food::Egg)) else { continue };
        let whole_dish_heated = steps.iter().any(|own| own.facts.warmth == Warmth::Through);
        let said = matches!(first.contents().foods.get(&Food::Egg), Some(Known::Said));
        let raw_words = steps.iter().find(|own| {
            own.text_says(&[
                "raw egg",
                "mayonnaise",
                "aioli",
                "mousse",
                "tiramisu",
                "yolk",
                "egg white",
                "raw egg white",
            ])
        });
        let beaten =
            raw_words.filter(|own| !own.facts.to_be_cooked).or(steps.last().filter(|_| !whole_dish_heated && said));
        if let Some(own) = beaten.filter(|_| !steps.iter().any(|own| own.says(SAFE))) {
            let text = format!(
                "{} has raw or lightly cooked egg: not for the very young, the old, the pregnant or the ill; 71 C (160 F) makes it safe",
                own.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}

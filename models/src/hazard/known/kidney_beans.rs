//! Kidney beans are poisonous until they have boiled.

use super::*;
use crate::hazard::{Finding, Night};
use crate::larder::Food;
use crate::menu::Kind;

/// Minutes at the boil.
const BOILED: i64 = 10;
/// Bought cooked.
const TINNED: &[&str] =
    &["tinned", "canned", "tin", "tins", "can", "cans", "jar", "jars", "cooked beans", "boiled beans"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "beans-below-the-boil",
    what: "dried kidney beans and their like are never boiled: below the boil their poison stays, and grows",
    topic: Topic::Undercooked,
    looks_at: "whether dried beans have ten minutes at a full boil",
    verdict: "breach",
    remedy: "Boil(\"Boil the beans hard\", \"10 min\") before they cook gently, or beans from a tin",
    source: |_| memory("FDA Bad Bug Book, phytohaemagglutinin: soak 5 hours, boil in fresh water"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let steps: Vec<_> = night.of_dish(&dish.id).collect();
        let Some(first) = steps.iter().find(|own| own.facts.warmth == Warmth::Through) else { continue };
        let contents = first.contents();
        let dried = contents.has(Food::KidneyBeans)
            || contents.has(Food::Beans) && steps.iter().any(|own| own.says(&["bean", "kidney"]));
        let tinned = contents.bought_cooked || steps.iter().any(|own| own.says(TINNED));
        let hob = |kind: &Kind| matches!(kind, Kind::Boil);
        let boiled = steps.iter().any(|own| {
            (hob(&own.label.kind) || own.text_says(&["boil", "hard boil", "full boil", "pressure"]))
                && own.end - own.start >= BOILED
        });
        if dried && !tinned && !boiled {
            let text = format!(
                "{} has beans that no step boils for {BOILED} minutes: boil them hard first, or say that they are tinned",
                first.dish.name
            );
            found.push(Finding::new(Weight::Breach, text, &[first]));
        }
    }
    found
}

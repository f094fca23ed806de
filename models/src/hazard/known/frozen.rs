//! Frozen meat into hot fat, or into the oven.

use super::*;
use crate::hazard::{Finding, Night};
use crate::menu::{Kind, slug};

pub(super) const HAZARD: Hazard = Hazard {
    code: "frozen-into-the-heat",
    what: "frozen meat goes into hot fat, where it boils over and stays raw, or into the oven, where it takes half as long again",
    topic: Topic::HotFat,
    looks_at: "the word frozen without a step that thaws, meat, and hot fat",
    verdict: "breach in fat; caution in an oven",
    remedy: "a step that thaws it in the refrigerator",
    source: |_| {
        memory(
            "USDA: a turkey is thawed completely before it is fried; from frozen, roasting takes at least half as long again",
        )
    },
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let steps: Vec<_> = night.of_dish(&dish.id).collect();
        let thawed = steps.iter().any(|own| {
            own.text_says(&["thaw", "defrost", "thawed", "defrosted"])
                || matches!(&own.label.kind, Kind::Other(word) if ["thaw", "defrost"].contains(&slug(word).as_str()))
        });
        let frozen = steps.iter().any(|own| own.says(&["frozen", "from frozen", "from the freezer"]));
        let heated = steps.iter().find(|own| own.facts.warmth == Warmth::Through);
        let Some(first) = heated.filter(|own| frozen && !thawed && own.contents().any(|food| food.is_flesh())) else {
            continue;
        };
        let fat = matches!(first.label.kind, Kind::Fry | Kind::DeepFry)
            || first.says(&["deep fry", "deep fryer", "fryer", "hot oil", "hot fat", "deep fat"]);
        let (weight, text) = if fat {
            (
                Weight::Breach,
                "goes frozen into hot fat: it boils over and stays raw inside; thaw it in the refrigerator first, and dry it",
            )
        } else {
            (
                Weight::Caution,
                "is cooked from frozen: it takes at least half as long again, and only the thermometer knows",
            )
        };
        found.push(Finding::new(weight, format!("{} {text}", first.dish.name), &[first]));
    }
    found
}

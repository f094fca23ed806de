//! A stuffing inside a raw bird does not get cold.

use super::*;
use crate::hazard::{Finding, Night};

/// Minutes that are taken for just before (our judgement).
const SOON: i64 = 60;
const STUFFS: &[&str] = &[
    "stuff",
    "stuffed",
    "stuffing",
    "fill the bird",
    "fill the chicken",
    "fill the turkey",
    "fill the cavity",
    "fill the goose",
];

pub(super) const HAZARD: Hazard = Hazard {
    code: "stuffed-too-early",
    what: "a bird or joint is stuffed long before it goes into the oven",
    topic: Topic::Undercooked,
    looks_at: "words for stuffing in a step before the heat, and the minutes until the heat",
    verdict: "caution",
    remedy: "stuff it just before it roasts, or bake the stuffing beside it",
    source: |_| read("USDA Turkey Basics: Stuffing (copy of the FSIS leaflet)"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for own in night.spells.iter().filter(|own| own.facts.warmth == Warmth::None && own.text_says(STUFFS)) {
        let raw = !own.facts.cooked && own.facts.to_be_cooked && own.contents().any(|food| food.is_flesh());
        let heat =
            night.of_dish(&own.step.dish).find(|next| next.start >= own.end && next.facts.warmth == Warmth::Through);
        if let Some(next) = heat.filter(|next| raw && next.start - own.end > SOON) {
            let text = format!(
                "{} is stuffed {} h before it goes into the oven: stuff it just before, or bake the stuffing beside it",
                own.dish.name,
                (next.start - own.end) / 60
            );
            found.push(Finding::new(Weight::Caution, text, &[own]));
        }
    }
    found
}

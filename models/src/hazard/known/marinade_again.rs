//! What raw meat has lain in goes on the table.

use super::*;
use crate::hazard::{Finding, Night};

const SERVED: &[&str] = &["pour", "spoon", "drizzle", "sauce", "dress", "over", "toss", "glaze"];
const SAFE: &[&str] = &["boil", "boiled", "simmer", "simmered", "fresh", "reserved", "set aside", "kept apart"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "marinade-again",
    what: "a marinade of raw meat or fish is served without a boil",
    topic: Topic::Undercooked,
    looks_at: "words for a marinade poured over what is cooked",
    verdict: "caution",
    remedy: "boil it first, or keep some apart before the meat goes in",
    source: |_| memory("USDA FSIS: a marinade used on raw meat is boiled before it is served, or some is kept apart"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let served = night.spells.iter().filter(|own| {
        own.facts.cooked
            && own.facts.warmth != Warmth::Through
            && own.contents().any(|food| food.is_flesh())
            && own.text_says(&["marinade"])
            && own.text_says(SERVED)
            && !own.text_says(SAFE)
    });
    let text = |dish: &str| {
        format!(
            "{dish} is served with the marinade that its raw meat lay in: boil it first, or keep some apart beforehand"
        )
    };
    served.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}

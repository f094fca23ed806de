//! Meat that is cooked in part, and finished later.

use super::*;
use crate::hazard::{Finding, Night, Spell};

/// Minutes within which the end is taken for one cooking.
const AT_ONCE: i64 = 30;
/// Minutes after which what was browned is kept, and not only put down (our judgement).
const BROWNED: i64 = 180;
const HALF: &[&str] = &[
    "half cook",
    "half cooked",
    "half done",
    "part cook",
    "part cooked",
    "parcook",
    "par cook",
    "partly",
    "partially",
];

pub(super) const HAZARD: Hazard = Hazard {
    code: "cooked-in-part",
    what: "meat or poultry is half cooked, kept, and finished later: warm in the middle, and never safe in between",
    topic: Topic::Undercooked,
    looks_at: "words for half cooking, browning hours before, raw meat, and what waits for the heat that finishes it",
    verdict: "caution",
    remedy: "cook it through at once, or finish it at once",
    source: |_| memory("USDA: never brown or partially cook meat or poultry to refrigerate and finish it later"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let half = night.spells.iter().filter(|own| {
        own.facts.warmth != Warmth::None
            && own.facts.to_be_cooked
            && own.contents().any(|food| food.is_flesh())
            && (own.text_says(HALF) || own.facts.warmth == Warmth::Outside && chilled_after(night, own) > BROWNED)
            && own.course.get(1).map_or(0, |wait| wait.until - wait.from) + chilled_after(night, own) > AT_ONCE
    });
    let text = |dish: &str| {
        format!(
            "{dish} is half cooked, kept, and finished later: cook it through at once, or go on to the end without a wait"
        )
    };
    half.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}

/// Minutes in which nothing heats it after this step.
fn chilled_after(night: &Night<'_>, own: &Spell<'_>) -> i64 {
    let next = night.of_dish(&own.step.dish).find(|next| next.start >= own.end && next.facts.warmth == Warmth::Through);
    next.map_or(0, |next| next.start - own.end)
}

//! Flour is raw.

use super::*;
use crate::hazard::{Finding, Night};

const WORDS: &[&str] = &["raw dough", "cookie dough", "raw cookie dough", "raw flour", "raw batter", "cake batter"];
const SAFE: &[&str] = &["heat treated", "edible", "baked"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "raw-flour",
    what: "dough or batter is eaten raw",
    topic: Topic::Undercooked,
    looks_at: "words for raw dough that nothing heats from there on",
    verdict: "caution",
    remedy: "bake it, or use flour that was heat-treated by its maker",
    source: |_| memory("FDA: flour is a raw food; no raw dough or batter is eaten"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let text = |dish: &str| format!("{dish} has raw flour: bake it, or use flour that its maker has heat-treated");
    let found = unheated(night, WORDS, SAFE).into_iter();
    found.map(|own| Finding::new(Weight::Caution, text(&own.dish.name), &[own])).collect()
}

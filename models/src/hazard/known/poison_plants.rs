//! Parts of plants that are poisonous raw, or always.

use super::*;
use crate::hazard::{Finding, Night};

/// What no cooking mends.
const ALWAYS: &[&str] = &[
    "rhubarb leaf",
    "rhubarb leaves",
    "green potatoes",
    "green sprouting potatoes",
    "greened potatoes",
    "apricot kernel",
    "bitter almond",
];
/// What is poisonous until it is cooked.
const RAW: &[&str] = &["cassava", "manioc", "yuca", "taro", "elderberry", "elderberries"];
const PUT_AWAY: &[&str] =
    &["discard", "cut off", "cut away", "trim", "throw away", "throw out", "no", "without", "never"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "poisonous-part",
    what: "a part of a plant is eaten that is poisonous, or poisonous until it is cooked",
    topic: Topic::Undercooked,
    looks_at: "words for such parts, and whether anything heats them",
    verdict: "breach for what no heat mends; caution for what is not heated",
    remedy: "leave it out, or cook it through",
    source: |_| {
        memory(
            "FDA Bad Bug Book and FSANZ: oxalates of rhubarb leaves, solanine of green potatoes, cyanide of apricot kernels, of raw cassava and elderberries, oxalates of raw taro",
        )
    },
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let told = |own: &Spell<'_>, weight, what: &str| Finding::new(weight, format!("{} {what}", own.dish.name), &[own]);
    let always = night.problem.dishes.iter().filter_map(|dish| {
        let own = night.of_dish(&dish.id).find(|own| own.says(ALWAYS) && !own.says(PUT_AWAY))?;
        Some(told(own, Weight::Breach, "has a part of a plant that is poisonous, cooked or not: leave it out"))
    });
    let raw = unheated(night, RAW, PUT_AWAY).into_iter();
    let raw = raw.map(|own| told(own, Weight::Caution, "has what is poisonous raw: peel it and cook it through"));
    always.chain(raw).collect()
}

//! Ice or water in hot fat boils over, and burns.

use super::*;
use crate::hazard::{Finding, Night};

const ICY: &[&str] = &["ice", "icy", "frost", "dripping wet", "soaking wet"];
const DRIED: &[&str] = &[
    "ice cream",
    "shake off",
    "knock off",
    "brush off",
    "no ice",
    "free of ice",
    "without ice",
    "without their ice",
    "not icy",
];
const DOUSED: &[&str] =
    &["fire with water", "flame with water", "burning fat with water", "water on the fire", "water on burning fat"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "water-in-hot-fat",
    what: "ice goes into hot fat, or water onto burning fat",
    topic: Topic::HotFat,
    looks_at: "words for ice in steps that fry deep, and for a fire put out with water",
    verdict: "breach",
    remedy: "shake off the ice and dry the food; a lid for a fire, and never water",
    source: |_| practice("water in hot fat boils at once and throws the fat out; never water on burning fat"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let wet = night.spells.iter().filter(|own| {
        let fat = own.label.kind == crate::menu::Kind::DeepFry || own.text_says(&["hot fat", "hot oil", "fryer"]);
        fat && own.text_says(ICY) && !own.says(DRIED) || own.text_says(DOUSED) && !own.text_says(&["never", "not"])
    });
    let text = |dish: &str| {
        format!(
            "{dish}: water and ice throw hot fat out of the pan: shake off the ice, dry the food; a lid for a fire, never water"
        )
    };
    wet.map(|own| Finding::new(Weight::Breach, text(&own.dish.name), &[own])).collect()
}

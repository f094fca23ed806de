//! Ovens that are too cool for poultry and for meat whose inside has been touched.

use super::*;
use crate::cook::Meat;
use crate::cook::safety::{CONSUMER_C, Handling, Region};
use crate::hazard::{Finding, Night};
use crate::larder::Food;
use crate::menu::Kind;

pub(super) const HAZARD: Hazard = Hazard {
    code: "oven-too-cool",
    what: "poultry, or meat that is stuffed, rolled, minced or pierced, roasts in an oven below 163 C; the table for cooler ovens is for whole cuts of red meat only",
    topic: Topic::LowOven,
    looks_at: "the oven temperature of roasts without a lid, the food, how it was handled, the region",
    verdict: "breach in the United States; caution elsewhere, where no figure was found",
    remedy: "an oven at 163 C (325 F) or hotter",
    source: |rules| match rules.region {
        Region::Us => {
            read("USDA FSIS consumer guidance: no lower than 325 F for meat and poultry, and for stuffed poultry")
        }
        _ => assumed("no figure for this region was read: USDA FSIS consumer guidance stands in"),
    },
    find,
};

/// The coolest oven that will do for what must not be roasted low, degrees C; none for what may, and where it is only advice.
pub(super) fn oven_floor(facts: &Facts, contents: &Contents, rules: &Rules) -> Option<f64> {
    (rules.region == Region::Us && touched(facts, contents).is_some()).then_some(CONSUMER_C - 1.5)
}

/// Why it must not be roasted low, in a word.
fn touched(facts: &Facts, contents: &Contents) -> Option<&'static str> {
    let flesh = contents.any(|food| food.is_flesh() && !matches!(food, Food::Fish | Food::Shellfish));
    match facts.piece {
        Some(piece) if piece.meat == Meat::Vegetable && !piece.stuffed => return None,
        Some(piece) if piece.stuffed => return Some("stuffed"),
        Some(piece) if piece.handling != Handling::Whole => return Some("minced or pierced"),
        _ => {}
    }
    match contents {
        own if own.has(Food::Poultry) => Some("poultry"),
        own if own.has(Food::Mince) => Some("minced"),
        own if own.opened.is_some() && flesh => Some("stuffed, rolled or pierced"),
        _ => None,
    }
}

fn find(night: &Night<'_>) -> Vec<Finding> {
    let dry =
        |kind: &Kind| matches!(kind, Kind::Roast | Kind::Bake) || matches!(kind, Kind::Other(word) if word != "stand");
    let roasts = night.spells.iter().filter(|spell| {
        spell.facts.warmth == Warmth::Through
            && !spell.facts.cooked
            && dry(&spell.label.kind)
            && !spell.contents().bought_cooked
            || spell.facts.warmth == Warmth::Through && spell.facts.piece.is_some() && spell.label.kind == Kind::Roast
    });
    let mut found = Vec::new();
    for spell in roasts {
        let (Some(why), Some(oven)) = (touched(spell.facts, spell.contents()), spell.oven()) else { continue };
        if oven >= CONSUMER_C - 1.5 {
            continue;
        }
        let text = format!(
            "{} is {why} and goes into an oven of {}: roast it at {} or hotter; the table for cooler ovens is for whole cuts of red meat",
            spell.dish.name,
            both(oven),
            both(CONSUMER_C)
        );
        let weight = if night.rules.region == Region::Us { Weight::Breach } else { Weight::Caution };
        found.push(Finding::new(weight, text, &[spell]));
    }
    found
}

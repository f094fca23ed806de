//! Glowing charcoal gives off carbon monoxide.

use super::*;
use crate::hazard::{Finding, Night, Spell};
use crate::larder::tokens;

const COALS: &[&str] = &[
    "charcoal",
    "embers",
    "ember",
    "brazier",
    "barbecue",
    "bbq",
    "hibachi",
    "coals",
    "briquettes",
    "fire pit",
    "firepit",
];
const INSIDE: &[&str] = &[
    "indoors",
    "inside",
    "indoor",
    "hall",
    "kitchen",
    "garage",
    "tent",
    "shed",
    "cellar",
    "porch",
    "barn",
    "conservatory",
    "hearth",
    "sink",
    "room",
];
const OUTSIDE: &[&str] =
    &["outdoors", "outside", "outdoor", "garden", "yard", "terrace", "patio", "open air", "lawn", "field", "allotment"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "charcoal-indoors",
    what: "charcoal, embers or a barbecue where there may be a roof: carbon monoxide kills without a smell",
    topic: Topic::Steam,
    looks_at: "words for glowing coals in steps and places, and words for indoors and outdoors",
    verdict: "breach unless the menu or the kitchen says that it is outdoors",
    remedy: "outdoors only, and never brought in to cool",
    source: |_| memory("public-health advice everywhere: no charcoal indoors, embers included"),
    find,
};

/// Whether a step needs glowing coals. A dish that is called barbecue chicken does not, where it is baked or chilled.
pub(crate) fn glows(spell: &Spell<'_>) -> bool {
    let called = crate::hazard::night::says(&tokens(&spell.dish.name), COALS);
    let elsewhere = called && (spell.mode.place.is_some() || spell.is_cold());
    spell.text_says(COALS) && !elsewhere && !spell.text_says(&["barbecue sauce", "bbq sauce"])
}

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for spell in &night.spells {
        let place =
            spell.mode.place.as_ref().and_then(|id| night.labels.places.get(id)).map_or("", |own| own.name.as_str());
        let place = tokens(place);
        let coals = glows(spell) || crate::hazard::night::says(&place, COALS);
        let outside = spell.says(OUTSIDE) || crate::hazard::night::says(&place, OUTSIDE);
        let inside = spell.says(INSIDE) || crate::hazard::night::says(&place, INSIDE);
        if coals && (inside || !outside) {
            let text = format!(
                "{} needs glowing coals, and nothing says that they are outdoors: never indoors, carbon monoxide kills without a smell",
                spell.dish.name
            );
            found.push(Finding::new(Weight::Breach, text, &[spell]));
        }
    }
    found
}

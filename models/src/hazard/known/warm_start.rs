//! Raw meat that is warm before it is cooked has stood.

use super::*;
use crate::cook::Meat;
use crate::cook::safety::Handling;
use crate::hazard::{Finding, Night};
use crate::menu::{Kind, Start};

pub(super) const HAZARD: Hazard = Hazard {
    code: "warm-before-it-cooks",
    what: "raw meat starts so warm that it must have stood for hours",
    topic: Topic::Holding,
    looks_at: "the temperature a roast starts with, the room, the meat",
    verdict: "breach above the room, or above 15 C for poultry and what is stuffed, minced or pierced; caution from 15 C",
    remedy: "start: fridge",
    source: |_| assumed("our judgement: a whole bird or joint takes hours in a room to be so warm in the middle"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    let roasts = night.spells.iter().filter(|spell| matches!(spell.label.kind, Kind::Roast) && !spell.facts.cooked);
    for spell in roasts {
        let Some(piece) = spell.facts.piece.filter(|piece| piece.meat != Meat::Vegetable) else { continue };
        let Start::At(start) = piece.start else { continue };
        let degrees = start.celsius().round() as i64;
        let inside = piece.meat == Meat::Poultry || piece.stuffed || piece.handling != Handling::Whole;
        if degrees < 15 {
            continue;
        }
        let weight = if inside && degrees > 15 || degrees > night.rules.premises.room_c + 1 {
            Weight::Breach
        } else {
            Weight::Caution
        };
        let text = format!(
            "{} starts at {} in the middle: raw meat that warm has stood for hours; take it from the refrigerator",
            spell.dish.name,
            both(degrees as f64)
        );
        found.push(Finding::new(weight, text, &[spell]));
    }
    found
}

//! Ice melts.

use super::*;
use crate::cook::chill::Cooler;
use crate::hazard::{Finding, Night};

/// Minutes for which a bath or a box of ice is trusted.
const TRUSTED: i64 = 240;

pub(super) const HAZARD: Hazard = Hazard {
    code: "ice-melts",
    what: "food is kept cold with ice for longer than the ice is trusted to last",
    topic: Topic::Holding,
    looks_at: "steps in an ice bath or a cool box, how long, and whether somebody renews the ice",
    verdict: "breach after 8 hours, caution after 4",
    remedy: "the refrigerator, or a touch that renews the ice",
    source: |_| assumed("our judgement: ice in a kitchen is water within hours"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for spell in night.spells.iter().filter(|spell| spell.facts.warmth == Warmth::None) {
        // A bath that takes the heat out of hot food has done its work when the food is cold.
        let hot = spell.before.iter().any(|&before| night.spells[before].facts.warmth == Warmth::Through);
        let bath = matches!(spell.facts.cooler, Some(Cooler::IceBath | Cooler::StirredIceBath));
        let words = &["ice", "ice bath", "ice box", "cool box", "coolbox", "esky", "icebox"];
        let said = spell.text_says(words) && !spell.text_says(&["ice cream"]);
        let iced = if bath { !hot } else { said };
        let renewed = spell.words.touches.iter().any(|touch| touch.to_lowercase().contains("ice"));
        let waits = spell.course.get(1).map_or(0, |wait| wait.until - wait.from);
        let minutes = spell.end - spell.start + if iced { waits } else { 0 };
        let risky = spell.perishable(spell.facts.cooked);
        if let Some(food) = risky.filter(|_| iced && !renewed && minutes > TRUSTED) {
            let weight = if minutes > 2 * TRUSTED { Weight::Breach } else { Weight::Caution };
            let text = format!(
                "{} ({food}) is kept in ice for {} h, and ice melts: the refrigerator, or renew the ice every few hours",
                spell.dish.name,
                minutes / 60
            );
            found.push(Finding::new(weight, text, &[spell]));
        }
    }
    found
}

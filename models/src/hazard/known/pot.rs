//! Hot food that cools in the cold, of which nobody has said how deep it is.

use super::*;
use crate::hazard::{Finding, How, Night};
use crate::menu::Kind;

/// Minutes in the cold after which hot food is kept, not just cooled off.
const KEPT: i64 = 240;

pub(super) const HAZARD: Hazard = Hazard {
    code: "pot-left-to-cool",
    what: "hot food goes into the cold in one pot of unknown depth: a full pot cools too slowly",
    topic: Topic::SlowCooling,
    looks_at: "food that goes from the heat into the refrigerator; whether its depth is known",
    verdict: "breach if it goes there in the pot without a step that cools it; caution if its depth is not said",
    remedy: "Chill(depth: \"25 mm\"), uncovered, in shallow dishes",
    source: |rules| rules.region.cooling().first().map_or(assumed("no rule"), |stage| stage.source.clone()),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for spell in &night.spells {
        let cools = spell.label.kind == Kind::Chill && spell.facts.cooked && !spell.facts.depth_known;
        let hot = spell.before.iter().any(|&before| night.spells[before].facts.warmth == Warmth::Through);
        let told = spell.own_cautions().any(|caution| caution.topic == Topic::SlowCooling);
        if cools && hot && !told && spell.end - spell.start >= KEPT {
            let text = format!(
                "{} is chilled hot, and nobody says how deep: cool it in shallow dishes, uncovered, and say depth",
                spell.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[spell]));
        }
        let waits = spell.course.get(1).filter(|wait| wait.how == How::Cooling && wait.until - wait.from >= KEPT);
        if waits.is_some() && spell.perishable(true).is_some() && spell.facts.warmth == Warmth::Through {
            let text = format!(
                "{} goes from the heat into the cold as it is: add Chill(depth: \"25 mm\") in shallow dishes",
                spell.dish.name
            );
            found.push(Finding::new(Weight::Breach, text, &[spell]));
        }
    }
    found
}

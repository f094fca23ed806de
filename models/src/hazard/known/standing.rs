//! Food that stands between the cold and the hot limit.

use super::*;
use crate::hazard::{Finding, Night, Spell};
use crate::larder::Food;

pub(super) const HAZARD: Hazard = Hazard {
    code: "stands-too-long",
    what: "food that germs like stands for too long between the cold and the hot limit, in all since it was last heated through",
    topic: Topic::Holding,
    looks_at: "every minute in the room, in a marinade on the counter, in an oven too cool, on a buffet; the food; how warm the room is",
    verdict: "breach over the limit; caution for milk and cream, and where food may still be eaten but not chilled again",
    remedy: "keep it hot, keep it cold, or make it later",
    source: |rules| rules.standing().source,
    find,
};

/// Whether it is the last that anybody does about the food of its dish: what it has stood by then is all.
fn told_here(night: &Night<'_>, spell: &Spell<'_>) -> bool {
    let next = night.problem.links.iter().filter(|link| link.from == spell.step.id);
    let next = next
        .filter_map(|link| night.spells.iter().find(|own| own.step.id == link.to && own.step.dish == spell.step.dish));
    next.clone().count() == 0
        || next.into_iter().all(|own| own.facts.warmth == Warmth::Through && own.arrived >= spell.stood)
}

fn find(night: &Night<'_>) -> Vec<Finding> {
    let limit = night.rules.standing().value as i64;
    // From this on it is to be eaten, and none of it chilled again.
    let use_now = (night.rules.region.rechill_minutes().value as i64).min(limit);
    let mut found: Vec<Finding> = Vec::new();
    for spell in night.spells.iter().filter(|spell| spell.stood > use_now && told_here(night, spell)) {
        let cooked = spell.facts.cooked || spell.facts.warmth == Warmth::Through;
        let Some(food) = spell.perishable(cooked) else { continue };
        let units = night.labels.units;
        let over = spell.stood > limit;
        let what =
            if over { "keep it hot, keep it cold, or make it later" } else { "eat it at once, and chill none of it" };
        let text = format!(
            "{} ({food}) stands between {} and {} for up to {} min in all; the limit is {limit} min: {what}",
            spell.dish.name,
            units.temperature(night.rules.cold_c() as i64),
            units.temperature(night.rules.hot_c() as i64),
            spell.stood,
        );
        let weight = if food == Food::Dairy || !over { Weight::Caution } else { Weight::Breach };
        // One line for each dish: the gravest.
        match found.iter_mut().find(|own| own.text.starts_with(&format!("{} (", spell.dish.name))) {
            Some(known) if known.weight > weight || known.weight == weight && known.text.len() >= text.len() => {}
            Some(known) => *known = Finding::new(weight, text, &[spell]),
            None => found.push(Finding::new(weight, text, &[spell])),
        }
    }
    found
}

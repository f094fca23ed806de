//! Days in the refrigerator.

use super::*;
use crate::cook::Source;
use crate::cook::safety::Region;
use crate::hazard::{Finding, How, Night};

const DAY: i64 = 1_440;

pub(super) const HAZARD: Hazard = Hazard {
    code: "kept-for-days",
    what: "cooked food, or raw meat, is kept cold for more days than is advised",
    topic: Topic::Holding,
    looks_at: "the minutes from the last heat to the next, or from the first work on raw meat to the heat",
    verdict: "caution",
    remedy: "cook it later, or freeze it",
    source: |rules| days_kept(rules.region).1,
    find,
};

/// Days for cooked food, and who says so.
pub(crate) fn days_kept(region: Region) -> (i64, Source) {
    match region {
        Region::Us => (4, memory("USDA: leftovers 3 to 4 days at 4 C; raw poultry and mince 1 to 2 days")),
        Region::Uk => (2, memory("FSA: eat leftovers within 48 hours")),
        _ => (3, memory("leftovers 3 days in the refrigerator")),
    }
}

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let mut hot: Option<(i64, bool)> = None;
        for spell in night.of_dish(&dish.id) {
            let heats = spell.facts.warmth == Warmth::Through;
            let cooked = spell.facts.cooked || heats;
            let until = if heats { spell.start } else { spell.served.unwrap_or(spell.end) };
            let cold = spell.course.iter().any(|own| matches!(own.how, How::Cooling | How::Chilled));
            let since = hot.map_or(spell.start, |(since, _)| since);
            let was_cold = hot.is_some_and(|(_, cold)| cold) || cold;
            let was_cooked = spell.facts.cooked;
            let limit = if was_cooked { days_kept(night.rules.region).0 * DAY } else { 2 * DAY };
            let risky = spell.perishable(was_cooked);
            if let Some(food) = risky.filter(|_| was_cold && until - since > limit) {
                let text = format!(
                    "{} ({food}) is kept for {} days; {} are advised: make it later, or freeze it",
                    spell.dish.name,
                    (until - since + DAY / 2) / DAY,
                    limit / DAY
                );
                found.push(Finding::new(Weight::Caution, text, &[spell]));
                break;
            }
            if heats {
                hot = Some((spell.end, cold));
            } else if hot.is_none() && cooked == was_cooked {
                hot = Some((spell.start, cold));
            } else if let Some((_, known)) = &mut hot {
                *known |= cold;
            }
        }
    }
    found
}

//! Where there is no air, a poison grows that nobody smells.

use super::*;
use crate::hazard::{Finding, How, Night};
use crate::menu::Keeps;

/// Minutes of one evening, and of a day.
const HOURS: i64 = 240;
const DAY: i64 = 1_440;
const UNDER: &[&str] = &["garlic", "herb", "basil", "chilli", "confit", "mushroom", "tomato", "tomatoes", "pepper"];

pub(super) const HAZARD: Hazard = Hazard {
    code: "kept-without-air",
    what: "garlic, herbs or vegetables under oil, or potatoes baked in foil, stand where it is not cold: botulism",
    topic: Topic::Holding,
    looks_at: "words for food under oil and for potatoes in foil, and how long it stands in the room",
    verdict: "caution; breach under oil for more than a day",
    remedy: "the refrigerator, and eaten within days; potatoes out of their foil",
    source: |_| memory("CDC on botulism: home-made infused oils in the refrigerator; baked potatoes out of their foil"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found: Vec<Finding> = Vec::new();
    for own in &night.spells {
        let minutes: i64 =
            own.course.iter().filter(|part| part.how == How::Standing).map(|part| part.until - part.from).sum();
        let foil = own.says(&["foil"]) && own.says(&["potato", "potatoes"]) && own.facts.warmth == Warmth::Through;
        let waits =
            own.course.iter().skip(1).filter(|part| part.how == How::Standing).map(|part| part.until - part.from);
        let waited: i64 = waits.sum();
        // What was heated in its oil lies without air as well; what was only roasted with some does not.
        let under = own.says(&["in oil", "under oil", "in olive oil", "confit"]) && own.facts.warmth == Warmth::Through;
        let (weight, what) = if own.says(&["oil"])
            && own.says(UNDER)
            && (own.facts.warmth == Warmth::None && minutes > HOURS || under && waited > HOURS)
        {
            let weight = if minutes.max(waited) > DAY { Weight::Breach } else { Weight::Caution };
            (
                weight,
                "stands under oil in the room: botulism grows without air; keep it in the refrigerator, a few days only",
            )
        } else if foil && waited > HOURS && own.facts.keeps != Keeps::Hot {
            (
                Weight::Caution,
                "stays in its foil while it cools: take the foil off, or botulism grows without air; keep it hot or cold",
            )
        } else {
            continue;
        };
        if !found.iter().any(|known| known.steps.iter().any(|step| step.starts_with(&format!("{}/", own.step.dish)))) {
            found.push(Finding::new(weight, format!("{} {what}", own.dish.name), &[own]));
        }
    }
    found
}

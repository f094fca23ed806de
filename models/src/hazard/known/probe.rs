//! A probe that nobody is there to read.

use super::*;
use crate::hazard::{Finding, Night};
use crate::menu::Kind;
use crate::problem::Minute;

pub(super) const HAZARD: Hazard = Hazard {
    code: "nobody-to-read-the-probe",
    what: "meat cooks, or is done, while nobody is in the kitchen",
    topic: Topic::Undercooked,
    looks_at: "the minutes at which meat in an oven may be done, and when cooks are there",
    verdict: "caution",
    remedy: "another hour, or a probe that rings where somebody sleeps",
    source: |_| practice("an oven is not left alone, and the thermometer decides"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let shifts: Vec<[Minute; 2]> = night.labels.cooks.iter().flat_map(|cook| cook.shifts.iter().copied()).collect();
    let there = |minute: Minute| shifts.iter().any(|&[from, to]| from <= minute && minute < to);
    let mut found = Vec::new();
    if shifts.is_empty() {
        return found;
    }
    let cooks = |kind: &Kind| {
        matches!(kind, Kind::Roast | Kind::Braise | Kind::Bake | Kind::Simmer | Kind::Boil | Kind::Other(_))
    };
    for spell in night.spells.iter().filter(|own| own.facts.warmth == Warmth::Through && cooks(&own.label.kind)) {
        if !spell.contents().any(|food| food.is_flesh()) {
            continue;
        }
        let shortest = spell.words.range.map_or(spell.end - spell.start, |range| range.shortest);
        let done = (spell.start + shortest).min(spell.end - 1);
        let alone = (done..spell.end)
            .find(|&minute| !there(minute))
            .or_else(|| (spell.start..spell.end).step_by(5).find(|&minute| !there(minute)));
        if let Some(minute) = alone {
            let text = format!(
                "nobody is there at {} while {} is on the heat, to read the probe or to watch it",
                night.clock(minute),
                spell.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[spell]));
        }
    }
    found
}

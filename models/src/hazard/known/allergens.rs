//! Allergens that pass from one dish to another.

use std::collections::BTreeMap;

use super::*;
use crate::hazard::{Finding, Night, Spell};
use crate::kitchen::SHELF;
use crate::menu::{Kind, slug};

/// A pool of more than so many is nothing that is washed: watts.
const MOST_TOOLS: i64 = 20;

pub(super) const HAZARD: Hazard = Hazard {
    code: "allergen-passes-on",
    what: "a tool, a pan or fat goes from a dish with an allergen the menu names to one without it, or both stand in one oven",
    topic: Topic::Allergen,
    looks_at: "the allergens a menu names, tools of which there are only so many, frying fat, ovens at the same time",
    verdict: "caution",
    remedy: "wash the tool between, fresh fat, a cover or a rack above; tell your guests",
    source: |_| practice("allergens are shown wherever tools are shared"),
    find,
};

pub(super) fn shared(night: &Night<'_>, first: &Spell<'_>, second: &Spell<'_>) -> Option<(String, &'static str)> {
    let few =
        |pool: &String| *pool != slug(SHELF) && night.problem.pools.get(pool).is_some_and(|&there| there <= MOST_TOOLS);
    let tool =
        first.mode.pools.iter().find(|(pool, taken)| {
            **taken > 0 && few(pool) && second.mode.pools.get(*pool).is_some_and(|&taken| taken > 0)
        });
    if let Some((pool, _)) = tool {
        let name = night.labels.pools.get(pool).cloned().unwrap_or_else(|| pool.clone());
        return Some((name, "wash it in between"));
    }
    let fries = |own: &Spell<'_>| matches!(own.label.kind, Kind::Fry | Kind::DeepFry);
    if fries(first) && fries(second) && first.words.pan.is_some() && first.words.pan == second.words.pan {
        return Some((first.words.pan.clone().unwrap_or_default(), "fresh fat, and wash the pan in between"));
    }
    let wet = |own: &Spell<'_>| matches!(own.label.kind, Kind::Boil | Kind::Simmer | Kind::Poach | Kind::Steam);
    let same = |words: &[&str]| second.text_says(words) || first.text_says(words);
    let unnamed = |own: &Spell<'_>| own.label.kind == Kind::DeepFry && own.words.pan.is_none();
    if fries(first) && fries(second) && same(&["same fat", "same oil", "same fryer"])
        || unnamed(first) && unnamed(second)
    {
        return Some(("frying fat".to_owned(), "fresh fat, and wash the pan in between"));
    }
    if wet(first) && wet(second) && same(&["same water", "same pot", "same pan"]) {
        return Some(("water".to_owned(), "fresh water, and wash the pot in between"));
    }
    let meet = first.start < second.end && second.start < first.end;
    let place = first
        .mode
        .place
        .as_ref()
        .filter(|_| meet && first.mode.t.is_some() && first.mode.place == second.mode.place)?;
    let name = night.labels.places.get(place).map_or(place.clone(), |own| own.name.clone());
    Some((name, "cover one, or let nothing drip from above"))
}

/// One line of the answer: a dish, what it shares with others, the allergens it may pass on there, and what to do.
type Shared = (String, String, String, &'static str);

fn find(night: &Night<'_>) -> Vec<Finding> {
    // One line for each dish and tool, however many steps of it there are.
    let mut lines: BTreeMap<Shared, Vec<(String, String)>> = BTreeMap::new();
    for first in night.spells.iter().filter(|own| !own.dish.allergens.is_empty()) {
        for second in night.spells.iter().filter(|own| own.step.dish != first.step.dish && own.end > first.start) {
            let new: Vec<&str> = first
                .dish
                .allergens
                .iter()
                .filter(|own| !second.dish.allergens.contains(own))
                .map(String::as_str)
                .collect();
            let Some((tool, what)) = shared(night, first, second).filter(|_| !new.is_empty()) else { continue };
            let with = lines.entry((first.dish.name.clone(), tool, new.join(", "), what)).or_default();
            if !with.iter().any(|(_, dish)| *dish == second.dish.name) {
                with.push((second.step.id.clone(), second.dish.name.clone()));
            }
        }
    }
    let lines = lines.into_iter().map(|((dish, tool, allergen, what), with)| {
        let (steps, dishes): (Vec<String>, Vec<String>) = with.into_iter().unzip();
        let text = format!(
            "{dish} has {allergen} and shares the {tool} with {}: {what}, and tell your guests",
            dishes.join(", ")
        );
        Finding { weight: Weight::Caution, text, steps }
    });
    lines.collect()
}

//! An oven colder than the centre its food must reach proves that it will not reach it.

use super::*;
use crate::cook::Meat;
use crate::cook::safety::{Handling, Minimum, Region, minimum};
use crate::hazard::{Finding, Night, Spell};
use crate::larder::Food;
use crate::menu::Kind;

pub(super) const HAZARD: Hazard = Hazard {
    code: "centre-cannot-be-reached",
    what: "the oven is colder than the centre its food must reach, or than food must be reheated to",
    topic: Topic::Undercooked,
    looks_at: "the hottest air or water that the food of a dish meets, its food, its region",
    verdict: "breach",
    remedy: "a hotter oven, or a hob",
    source: |rules| minimum(Meat::Poultry, Handling::Whole, false, rules.region).source,
    find,
};

/// The least centre temperature of what a dish contains; none if nothing in it has one.
pub(crate) fn least_core(facts: &Facts, contents: &Contents, rules: &Rules) -> Option<Minimum> {
    let piece = facts.piece;
    let meats = contents.foods.keys().filter_map(|food| match food {
        Food::Poultry => Some(Meat::Poultry),
        Food::Pork => Some(Meat::Pork),
        Food::RedMeat | Food::Meat | Food::Mince => Some(Meat::Beef),
        Food::Fish | Food::Shellfish => Some(Meat::Fish),
        _ => None,
    });
    let meat = piece.map(|piece| piece.meat).or_else(|| {
        meats.max_by_key(|meat| [Meat::Beef, Meat::Fish, Meat::Pork, Meat::Poultry].iter().position(|own| own == meat))
    })?;
    if meat == Meat::Vegetable {
        return None;
    }
    let minced = contents.foods.contains_key(&Food::Mince);
    let handling = piece.map_or(Handling::Whole, |piece| piece.handling);
    let handling = if minced { Handling::Minced } else { handling };
    let stuffed = piece.is_some_and(|piece| piece.stuffed) || contents.opened.is_some();
    let least = minimum(meat, handling, stuffed, rules.region);
    // Whole red meat may be pink: by its table in the US, as it is in the UK. Below the table's first row nothing is credited.
    let pink = handling == Handling::Whole
        && !stuffed
        && meat != Meat::Poultry
        && meat != Meat::Fish
        && (meat != Meat::Pork || rules.region == Region::Us);
    let named_red = contents.has(Food::RedMeat) || matches!(meat, Meat::Lamb | Meat::Veal);
    let beef = piece.map_or(named_red, |piece| piece.meat != Meat::Pork);
    Some(if pink && beef { Minimum { core_c: 54.4, stand_min: 0.0, ..least } } else { least })
}

/// Whole red meat that is seared may be pink: its germs are outside.
fn pink_steak(night: &Night<'_>, dish: &str) -> bool {
    let whole = |spell: &Spell<'_>| {
        spell.contents().opened.is_none() && !spell.contents().any(|food| food.is_flesh() && food != Food::RedMeat)
    };
    night.of_dish(dish).any(|own| own.facts.warmth == Warmth::Outside && whole(own))
}

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for dish in &night.problem.dishes {
        let heated: Vec<_> = night.of_dish(&dish.id).filter(|spell| spell.facts.warmth == Warmth::Through).collect();
        let never = night.of_dish(&dish.id).next().filter(|first| {
            heated.is_empty()
                && !pink_steak(night, &dish.id)
                && !first.contents().bought_cooked
                && first.contents().any(|food| food.is_flesh())
        });
        if let Some(first) = never {
            let food = first.contents().first(Food::is_flesh).map_or(String::new(), |food| food.to_string());
            let text = format!(
                "{} has {food}, and no step cooks it: say that it is bought cooked (do: \"... the cooked {food}\"), or cook it",
                first.dish.name
            );
            found.push(Finding::new(Weight::Caution, text, &[first]));
        }
        let Some(hottest) = heated.iter().max_by(|a, b| a.hottest().total_cmp(&b.hottest())) else { continue };
        if !hottest.contents().bought_cooked
            && let Some(least) = least_core(hottest.facts, hottest.contents(), &night.rules)
            && least.missed_by(hottest.hottest())
        {
            let text = format!(
                "{} cannot reach {} in the middle where it is never hotter than {}: a hotter oven",
                hottest.dish.name,
                both(least.core_c),
                both(hottest.hottest())
            );
            found.push(Finding::new(Weight::Breach, text, &[hottest]));
        }
        let to = night.rules.region.reheat_c().value;
        let ham = hottest.contents().bought_cooked || hottest.contents().has(Food::CookedMeat);
        // What was cold is warmed, not kept warm: it must become as hot as what is reheated.
        let was_cold = |own: &Spell<'_>| own.before.iter().any(|&before| night.spells[before].is_cold());
        let warmed = night.of_dish(&dish.id).filter(|own| own.facts.warmth == Warmth::Holds && was_cold(own));
        for own in heated.iter().copied().chain(warmed).filter(|own| {
            own.label.kind == Kind::Reheat
                || own.facts.warmth == Warmth::Holds && own.facts.cooked
                || own.facts.cooked && own.text_says(&["reheat", "warm up", "warm through", "heat through"])
        }) {
            let risky = own.perishable(true).is_some() && !ham;
            if risky && own.hottest() < to {
                let text = format!(
                    "{} cannot be reheated to {} where it is never hotter than {}: a hotter oven, or a hob",
                    own.dish.name,
                    both(to),
                    both(own.hottest())
                );
                found.push(Finding::new(Weight::Breach, text, &[own]));
            }
        }
    }
    found
}

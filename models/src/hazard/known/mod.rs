//! The hazards, one file each.

mod airless;
mod allergens;
mod centre;
mod charcoal;
mod diets;
mod flames;
mod frozen;
mod gathered;
mod honey;
mod ice;
mod keeping;
mod kidney_beans;
mod marinade_again;
mod oven;
mod part_cooked;
mod poison_plants;
mod pot;
mod pressure;
mod probe;
mod rare_mince;
mod raw_beside_ready;
mod raw_egg;
mod raw_flour;
mod raw_milk;
mod raw_sprouts;
mod rinsed;
mod standing;
mod stuffed_early;
mod twice;
mod warm_start;
mod water_in_fat;

use super::{Hazard, Night, Rules, Spell};
use crate::cook::safety::{Topic, Weight};
use crate::cook::safety::{assumed, memory, practice, read};
use crate::labels::{Facts, Warmth};
use crate::larder::Contents;
use crate::problem::Mode;

pub(crate) use centre::least_core;
pub(crate) use charcoal::glows;
pub(crate) use keeping::days_kept;
use oven::oven_floor;
pub(crate) use raw_beside_ready::handles_raw;

/// Every hazard; the gravest first.
pub const ALL: &[Hazard] = &[
    centre::HAZARD,
    oven::HAZARD,
    standing::HAZARD,
    warm_start::HAZARD,
    pot::HAZARD,
    keeping::HAZARD,
    kidney_beans::HAZARD,
    poison_plants::HAZARD,
    water_in_fat::HAZARD,
    frozen::HAZARD,
    part_cooked::HAZARD,
    stuffed_early::HAZARD,
    twice::HAZARD,
    airless::HAZARD,
    raw_beside_ready::HAZARD,
    raw_egg::HAZARD,
    raw_milk::HAZARD,
    raw_sprouts::HAZARD,
    raw_flour::HAZARD,
    rare_mince::HAZARD,
    marinade_again::HAZARD,
    rinsed::HAZARD,
    honey::HAZARD,
    pressure::HAZARD,
    ice::HAZARD,
    probe::HAZARD,
    charcoal::HAZARD,
    flames::HAZARD,
    gathered::HAZARD,
    allergens::HAZARD,
    diets::HAZARD,
];

/// Whether a way is colder than its food must become, or than an oven for it may be.
pub(super) fn mode_is_too_cool(mode: &Mode, facts: &Facts, contents: &Contents, rules: &Rules) -> bool {
    let Some([low, high]) = mode.t else { return false };
    if facts.warmth != Warmth::Through || contents.bought_cooked {
        return false;
    }
    let least = least_core(facts, contents, rules);
    least.is_some_and(|least| least.missed_by(f64::from(high as i32)))
        || oven_floor(facts, contents, rules).is_some_and(|floor| (low + high) as f64 / 2.0 < floor)
}

/// The first step of each dish that says so, in words of its own or by the name of the dish, where nothing heats the food through
/// in it or after it. `but` are words that take it back.
fn unheated<'n, 'a>(night: &'n Night<'a>, words: &[&str], but: &[&str]) -> Vec<&'n Spell<'a>> {
    let of_dish = |dish: &str| {
        let steps: Vec<&Spell<'a>> = night.spells.iter().filter(|own| own.step.dish == dish).collect();
        let heated = steps.iter().rposition(|own| own.facts.warmth == Warmth::Through);
        let after = steps.into_iter().skip(heated.map_or(0, |last| last + 1));
        let mut says = after.filter(|own| own.text_says(words) || heated.is_none() && own.says(words));
        says.find(|own| !own.says(but))
    };
    night.problem.dishes.iter().filter_map(|dish| of_dish(&dish.id)).collect()
}

/// A temperature on both scales.
fn both(celsius: f64) -> String {
    crate::cook::safety::both(celsius)
}

//! What a step does to its food, as far as hazards ask.

use crate::cook::safety::Region;
use crate::labels::{Facts, Warmth};
use crate::menu::{Keeps, Kind, Step};

/// What a step does to its food, given what has been and what will be done to it.
pub(crate) fn facts(step: &Step, cooked: bool, to_be_cooked: bool, keeps: Keeps) -> Facts {
    Facts {
        warmth: warms(step),
        keeps,
        cooked,
        to_be_cooked,
        cooler: step.cools.map(|cools| cools.cooler),
        depth_known: step.cools.is_some() || step.way.pan.is_some() && step.way.weight.is_some(),
        piece: step.piece,
    }
}

/// Words for jobs with heat that have no kind of their own.
const HOT: &[&str] = &[
    "steam",
    "poach",
    "toast",
    "microwave",
    "deep-fry",
    "deepfry",
    "stir-fry",
    "saute",
    "barbecue",
    "bbq",
    "confit",
    "griddle",
    "scald",
    "blanch",
    "stew",
    "pressure-cook",
    "sous-vide",
    "water-bath",
    "slow-cook",
    "slow-cooker",
    "pressure-cooker",
    "rice-cooker",
    "air-fry",
    "smoke",
    "char",
    "casserole",
    "cook",
    "spit",
];

/// How a step warms its food: by its kind, or by its word and its heat.
pub(crate) fn warms(step: &Step) -> Warmth {
    use Kind::{
        Bake, Boil, Braise, DeepFry, Finish, Fry, Grill, Hold, Poach, Reheat, Roast, Sear, Simmer, Steam, StirFry,
        Toast, Warm,
    };
    match &step.kind {
        Sear => Warmth::Outside,
        Simmer | Boil | Poach | Steam | Braise | Roast | Finish | Bake | Grill | Toast | Reheat | Fry | StirFry
        | DeepFry => Warmth::Through,
        Hold | Warm => Warmth::Holds,
        Kind::Other(word) => {
            let heated = step.way.temperature.is_some() || step.way.level.is_some();
            let word = crate::menu::slug(word);
            let hot = HOT.iter().any(|hot| word == *hot || word.strip_suffix("ing").is_some_and(|stem| stem == *hot));
            if heated || hot { Warmth::Through } else { Warmth::None }
        }
        _ => Warmth::None,
    }
}

/// A region without more is a household of usual warmth.
impl From<Region> for super::Rules {
    fn from(region: Region) -> Self {
        super::Rules { region, ..super::Rules::default() }
    }
}

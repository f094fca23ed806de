//! Food that calls for care.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::Allergen;
use crate::menu::Contains;

/// Food that can make people ill when it is not cooked, cooled or kept well; the most delicate first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Food {
    /// Chicken, duck, turkey, goose, game birds.
    Poultry,
    /// Minced meat, sausages, burgers.
    Mince,
    /// Pork, whole.
    Pork,
    /// Beef, veal, lamb, mutton, venison, whole.
    RedMeat,
    /// Meat of which nothing more is known.
    Meat,
    /// Meat that is bought cooked or cured: ham, salami.
    CookedMeat,
    /// Fish.
    Fish,
    /// Mussels, prawns, crab.
    Shellfish,
    /// Eggs.
    Egg,
    /// Milk, cream, custard.
    Dairy,
    /// Rice, once it is cooked.
    Rice,
    /// Dried beans that are poisonous below the boil.
    KidneyBeans,
    /// Other dried beans, once they are cooked.
    Beans,
    /// Stock and gravy of meat.
    Gravy,
}

impl Food {
    /// What a word of the menu's `contains` stands for.
    pub fn of(said: Contains) -> Food {
        match said {
            Contains::Meat => Food::Meat,
            Contains::Mince => Food::Mince,
            Contains::Poultry => Food::Poultry,
            Contains::Fish => Food::Fish,
            Contains::Egg => Food::Egg,
            Contains::Rice => Food::Rice,
            Contains::Beans => Food::Beans,
        }
    }

    /// Its word: `red-meat`.
    pub fn word(self) -> &'static str {
        match self {
            Food::Poultry => "poultry",
            Food::Mince => "mince",
            Food::Pork => "pork",
            Food::RedMeat => "red-meat",
            Food::Meat => "meat",
            Food::CookedMeat => "cooked-meat",
            Food::Fish => "fish",
            Food::Shellfish => "shellfish",
            Food::Egg => "egg",
            Food::Dairy => "dairy",
            Food::Rice => "rice",
            Food::KidneyBeans => "kidney-beans",
            Food::Beans => "beans",
            Food::Gravy => "gravy",
        }
    }

    /// Flesh that is bought raw: meat, poultry, fish.
    pub fn is_flesh(self) -> bool {
        matches!(
            self,
            Food::Poultry | Food::Mince | Food::Pork | Food::RedMeat | Food::Meat | Food::Fish | Food::Shellfish
        )
    }

    /// From an animal.
    pub fn is_animal(self) -> bool {
        !matches!(self, Food::Rice | Food::KidneyBeans | Food::Beans)
    }

    /// What this food alone says of allergens.
    pub(super) fn allergens(self) -> &'static [Allergen] {
        match self {
            Food::Fish => &[Allergen::Fish],
            Food::Egg => &[Allergen::Egg],
            Food::Dairy => &[Allergen::Milk],
            _ => &[],
        }
    }
}

impl fmt::Display for Food {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Food::RedMeat | Food::Meat => "meat",
            Food::CookedMeat => "cooked meat",
            Food::KidneyBeans => "kidney beans",
            own => own.word(),
        })
    }
}

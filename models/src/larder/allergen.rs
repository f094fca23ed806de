//! The allergens that laws name: fourteen in the European Union and the United Kingdom, nine in the United States.
//!
//! Regulation (EU) No 1169/2011, annex II; FALCPA (2004) and the FASTER Act (2021) for the nine. Both lists are written from
//! memory: the documents were not read for this.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::menu::slug;

/// An allergen of the fourteen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Allergen {
    /// Cereals that contain gluten; the nine name wheat.
    Gluten,
    /// Prawns, crab, lobster.
    Crustaceans,
    /// Eggs.
    Egg,
    /// Fish.
    Fish,
    /// Peanuts.
    Peanut,
    /// Soya.
    Soya,
    /// Milk.
    Milk,
    /// Tree nuts.
    Nuts,
    /// Celery and celeriac.
    Celery,
    /// Mustard.
    Mustard,
    /// Sesame.
    Sesame,
    /// Sulphur dioxide, in wine, cider and dried fruit.
    Sulphites,
    /// Lupin.
    Lupin,
    /// Mussels, oysters, squid.
    Molluscs,
}

impl Allergen {
    /// All fourteen.
    pub const ALL: &[Allergen] = &[
        Allergen::Gluten,
        Allergen::Crustaceans,
        Allergen::Egg,
        Allergen::Fish,
        Allergen::Peanut,
        Allergen::Soya,
        Allergen::Milk,
        Allergen::Nuts,
        Allergen::Celery,
        Allergen::Mustard,
        Allergen::Sesame,
        Allergen::Sulphites,
        Allergen::Lupin,
        Allergen::Molluscs,
    ];

    /// Whether it is one of the nine of the United States, where of the cereals wheat is named.
    pub fn in_the_nine(self) -> bool {
        !matches!(
            self,
            Allergen::Celery | Allergen::Mustard | Allergen::Sulphites | Allergen::Lupin | Allergen::Molluscs
        )
    }

    /// The allergen that a cook calls so: `hazelnut`, `milk`.
    pub fn called(word: &str) -> Option<Allergen> {
        let word = slug(word);
        let same = |own: &&Allergen| own.to_string() == word || own.to_string() == format!("{word}s");
        Allergen::ALL.iter().find(same).copied().or_else(|| super::words::of(&word).allergens.first().map(|own| own.0))
    }
}

impl fmt::Display for Allergen {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Allergen::Gluten => "gluten",
            Allergen::Crustaceans => "crustaceans",
            Allergen::Egg => "egg",
            Allergen::Fish => "fish",
            Allergen::Peanut => "peanut",
            Allergen::Soya => "soya",
            Allergen::Milk => "milk",
            Allergen::Nuts => "nuts",
            Allergen::Celery => "celery",
            Allergen::Mustard => "mustard",
            Allergen::Sesame => "sesame",
            Allergen::Sulphites => "sulphites",
            Allergen::Lupin => "lupin",
            Allergen::Molluscs => "molluscs",
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lists_have_fourteen_and_nine() {
        assert_eq!(Allergen::ALL.len(), 14);
        assert_eq!(Allergen::ALL.iter().filter(|own| own.in_the_nine()).count(), 9);
        assert_eq!(Allergen::called("hazelnut"), Some(Allergen::Nuts));
        assert_eq!(Allergen::called("Milk"), Some(Allergen::Milk));
        assert_eq!(Allergen::called("kindness"), None);
    }
}

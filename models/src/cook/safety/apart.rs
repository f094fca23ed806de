//! Raw poultry and what is eaten raw kept apart; allergens shown wherever tools are shared.

use serde::Serialize;

use super::caution::{Caution, Weight, practice};
use crate::caution::Topic;

/// What a dish is while it is worked on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Rawness {
    /// Raw poultry: may carry germs to other food.
    RawPoultry,
    /// Eaten as it is: no heat comes after.
    EatenRaw,
    /// Neither.
    #[default]
    Other,
}

/// One use of a place or a tool by a dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Use<'a> {
    /// The dish.
    pub dish: &'a str,
    /// The place or the tool.
    pub place: &'a str,
    /// First minute.
    pub start: i64,
    /// The minute after the last.
    pub end: i64,
    /// What the dish is then.
    pub rawness: Rawness,
    /// Its allergens.
    pub allergens: &'a [&'a str],
}

/// Cautions for dishes that share a place or a tool. `clean` is how many minutes suffice to wash down between two uses.
///
/// Raw poultry followed within that time, or overlapped, by what is eaten raw is a breach; allergens of a dish are shown
/// to every later dish of the place that does not have them itself.
pub fn apart(uses: &[Use<'_>], clean: i64) -> Vec<Caution> {
    let mut cautions = Vec::new();
    for first in uses {
        for second in uses {
            let follows = first.place == second.place && first.dish != second.dish && second.end > first.start;
            if !follows {
                continue;
            }
            let gap = second.start - first.end;
            if first.rawness == Rawness::RawPoultry && second.rawness == Rawness::EatenRaw && gap < clean {
                cautions.push(Caution::new(
                    Topic::RawPoultry,
                    Weight::Breach,
                    format!(
                        "{} is raw poultry on {} and {} is eaten raw there {}: keep them apart in time or place",
                        first.dish,
                        first.place,
                        second.dish,
                        if gap < 0 { "at the same time".to_owned() } else { format!("{gap} min later") }
                    ),
                    practice("raw poultry is kept from what is eaten raw"),
                ));
            }
            let new: Vec<&str> =
                first.allergens.iter().copied().filter(|allergen| !second.allergens.contains(allergen)).collect();
            if !new.is_empty() && second.start >= first.start {
                cautions.push(Caution::new(
                    Topic::Allergen,
                    Weight::Caution,
                    format!("{} shares {} with {}, which has {}", second.dish, first.place, first.dish, new.join(", ")),
                    practice("allergens are shown wherever tools are shared"),
                ));
            }
        }
    }
    cautions
}

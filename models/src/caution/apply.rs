//! Which cautions apply to a step, as far as the menu says.

use super::{Caution, Topic, usual};
use crate::cook::safety::{CONSUMER_C, Rawness, Region};
use crate::menu::{Contains, Kind};
use crate::problem::Mode;

/// What has been done to the food of a step, and what is still to be done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Nature {
    /// It has been hot before.
    pub(crate) cooked: bool,
    /// Heat comes after.
    pub(crate) to_be_cooked: bool,
}

impl Nature {
    /// What the food of a dish is while a step of this kind goes on.
    pub(crate) fn rawness(self, kind: &Kind, contains: &[Contains]) -> Rawness {
        let by_hand = matches!(kind, Kind::Prep | Kind::Soak | Kind::Beat | Kind::Dress | Kind::Plate | Kind::Carve);
        if !by_hand || self.cooked {
            Rawness::Other
        } else if contains.contains(&Contains::Poultry) {
            Rawness::RawPoultry
        } else if self.to_be_cooked {
            Rawness::Other
        } else {
            Rawness::EatenRaw
        }
    }
}

/// Whether food gets hot in a step of this kind.
pub(crate) fn heats(kind: &Kind) -> bool {
    use Kind::{
        Bake, Boil, Braise, DeepFry, Finish, Fry, Grill, Hold, Poach, Reheat, Roast, Sear, Simmer, Steam, StirFry,
        Toast,
    };
    matches!(
        kind,
        Sear | Simmer
            | Boil
            | Poach
            | Steam
            | Braise
            | Roast
            | Finish
            | Bake
            | Grill
            | Toast
            | Reheat
            | Fry
            | StirFry
            | DeepFry
            | Hold
    )
}

/// The cautions that apply to a step wherever it is done, and those of each of its modes, in order.
pub(crate) fn of(
    kind: &Kind,
    contains: &[Contains],
    nature: Nature,
    modes: &[Mode],
    region: Region,
) -> (Vec<Caution>, Vec<Vec<Caution>>) {
    let meat = contains.iter().any(|food| matches!(food, Contains::Meat | Contains::Mince | Contains::Poultry));
    let risky = !contains.is_empty();
    let egg = contains.contains(&Contains::Egg);
    let mut topics = Vec::new();
    match kind {
        Kind::Roast | Kind::Finish | Kind::Grill | Kind::Toast | Kind::Bake | Kind::Braise | Kind::Sear if risky => {
            topics.push(Topic::Undercooked);
        }
        Kind::Simmer | Kind::Boil | Kind::Poach | Kind::Steam => {
            if risky {
                topics.push(Topic::Undercooked);
            }
            topics.push(Topic::Steam);
        }
        // Pastry that was never hot does not cool too slowly.
        Kind::Chill if nature.cooked => topics.push(Topic::SlowCooling),
        Kind::Hold => topics.push(Topic::Holding),
        Kind::Other(word) if word == "thaw" => topics.push(Topic::Thawing),
        Kind::Reheat => topics.extend([Topic::Reheating, Topic::Steam]),
        Kind::Fry | Kind::StirFry | Kind::DeepFry => {
            if risky {
                topics.push(Topic::Undercooked);
            }
            topics.push(Topic::HotFat);
        }
        Kind::Beat | Kind::Dress if egg && !nature.cooked && !nature.to_be_cooked => topics.push(Topic::RawEgg),
        _ => {}
    }
    let cool = |mode: &Mode| mode.t.is_some_and(|[_, high]| (high as f64) < CONSUMER_C);
    let of_mode = |mode: &Mode| {
        let low = meat && *kind == Kind::Roast && cool(mode);
        low.then(|| usual(Topic::LowOven, region)).into_iter().collect()
    };
    topics.sort_unstable();
    (topics.into_iter().map(|topic| usual(topic, region)).collect(), modes.iter().map(of_mode).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_can_hurt_carries_its_caution() {
        let topics = |kind: Kind, contains: &[Contains], nature: Nature| -> Vec<Topic> {
            of(&kind, contains, nature, &[], Region::Us).0.into_iter().map(|caution| caution.topic).collect()
        };
        let raw = Nature::default();
        let cooked = Nature { cooked: true, to_be_cooked: false };
        let to_cook = Nature { cooked: false, to_be_cooked: true };
        assert_eq!(topics(Kind::Fry, &[], to_cook), [Topic::HotFat]);
        assert_eq!(topics(Kind::Chill, &[Contains::Rice], cooked), [Topic::SlowCooling]);
        assert_eq!(topics(Kind::Chill, &[Contains::Egg], to_cook), [], "pastry is chilled before it is baked");
        assert_eq!(topics(Kind::Roast, &[Contains::Poultry], raw), [Topic::Undercooked]);
        assert_eq!(topics(Kind::Roast, &[], raw), []);
        assert_eq!(topics(Kind::Beat, &[Contains::Egg], raw), [Topic::RawEgg]);
        assert_eq!(topics(Kind::Beat, &[Contains::Egg], to_cook), [], "a batter is cooked");
    }

    #[test]
    fn rawness_follows_the_heat() {
        let raw = Nature::default();
        let poultry = [Contains::Poultry];
        assert_eq!(raw.rawness(&Kind::Prep, &poultry), Rawness::RawPoultry);
        assert_eq!(Nature { cooked: true, ..raw }.rawness(&Kind::Carve, &poultry), Rawness::Other);
        assert_eq!(raw.rawness(&Kind::Dress, &[]), Rawness::EatenRaw);
        assert_eq!(Nature { to_be_cooked: true, ..raw }.rawness(&Kind::Prep, &[]), Rawness::Other);
    }
}

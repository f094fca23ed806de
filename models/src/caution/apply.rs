//! Which cautions apply to a step, as far as the menu says.

use super::{Caution, Topic, usual};
use crate::cook::safety::{CONSUMER_C, Region};
use crate::larder::{Contents, Food};
use crate::menu::Kind;
use crate::problem::Mode;

/// What has been done to the food of a step, and what is still to be done.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Nature {
    /// It has been hot before.
    pub(crate) cooked: bool,
    /// It has been heated right through, not only browned or kept warm.
    pub(crate) through: bool,
    /// Heat comes after.
    pub(crate) to_be_cooked: bool,
}

/// The cautions that apply to a step wherever it is done, and those of each of its modes, in order.
pub(crate) fn of(
    kind: &Kind,
    contents: &Contents,
    nature: Nature,
    modes: &[Mode],
    region: Region,
) -> (Vec<Caution>, Vec<Vec<Caution>>) {
    let meat = contents.any(|food| food.is_flesh() && !matches!(food, Food::Fish | Food::Shellfish));
    let egg = contents.has(Food::Egg);
    // Rice, beans and what is bought cooked have no centre to be reached; nor is what was cooked cooked again.
    let centre =
        !contents.bought_cooked && contents.any(|food| food.is_flesh() || food == Food::Egg && contents.said());
    let risky = centre && !nature.through;
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
        Kind::Chill if nature.cooked && !contents.foods.is_empty() => topics.push(Topic::SlowCooling),
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
    use crate::menu::{Contains, Dish};

    #[test]
    fn what_can_hurt_carries_its_caution() {
        let topics = |kind: Kind, contains: &[Contains], nature: Nature| -> Vec<Topic> {
            let dish = Dish { contains: contains.to_vec(), ..Dish::new("Dish", Vec::new()) };
            let contents = &Contents::of(&dish);
            of(&kind, contents, nature, &[], Region::Us).0.into_iter().map(|caution| caution.topic).collect()
        };
        let raw = Nature::default();
        let cooked = Nature { cooked: true, through: true, to_be_cooked: false };
        let browned = Nature { cooked: true, ..raw };
        let to_cook = Nature { to_be_cooked: true, ..raw };
        assert_eq!(topics(Kind::Fry, &[], to_cook), [Topic::HotFat]);
        assert_eq!(topics(Kind::Chill, &[Contains::Rice], cooked), [Topic::SlowCooling]);
        assert_eq!(topics(Kind::Chill, &[Contains::Egg], to_cook), [], "pastry is chilled before it is baked");
        assert_eq!(topics(Kind::Roast, &[Contains::Poultry], raw), [Topic::Undercooked]);
        assert_eq!(topics(Kind::Roast, &[Contains::Poultry], browned), [Topic::Undercooked], "browned is still raw");
        assert_eq!(topics(Kind::Roast, &[], raw), []);
        assert_eq!(topics(Kind::Beat, &[Contains::Egg], raw), [Topic::RawEgg]);
        assert_eq!(topics(Kind::Beat, &[Contains::Egg], to_cook), [], "a batter is cooked");
    }
}

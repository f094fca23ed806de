//! The usual cautions, and where they apply.
//!
//! Figures are from the USDA FSIS chart of safe minimum internal temperatures (updated 14 April 2025) and from the FDA Food
//! Code (sections 3-403.11, 3-501.14 and 3-501.16, as adopted by states). Other countries have other limits.

use crate::menu::{Contains, Kind};
use crate::problem::Mode;

/// A caution that applies to a step or to the whole plan.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Caution {
    /// Food may be undercooked.
    Undercooked,
    /// Food cools too slowly.
    SlowCooling,
    /// Food is held lukewarm.
    Holding,
    /// Food is not reheated through.
    Reheating,
    /// An oven is too cool for meat.
    LowOven,
    /// Raw or lightly cooked eggs.
    RawEgg,
    /// Hot fat.
    HotFat,
    /// Steam and boiling liquid.
    Steam,
}

impl Caution {
    /// Every caution.
    pub const ALL: &[Caution] = &[
        Caution::Undercooked,
        Caution::SlowCooling,
        Caution::Holding,
        Caution::Reheating,
        Caution::LowOven,
        Caution::RawEgg,
        Caution::HotFat,
        Caution::Steam,
    ];

    /// The caution in a sentence or two for the sheet.
    pub fn text(self) -> &'static str {
        match self {
            Caution::Undercooked => {
                "Minutes are an estimate, the thermometer decides. In the middle, at least: whole cuts of meat and fish 63 C \
                 (145 F), meat then rests 3 minutes or more; minced meat and eggs 71 C (160 F); poultry, stuffing and \
                 casseroles 74 C (165 F)."
            }
            Caution::SlowCooling => {
                "Cool cooked food from 57 C to 21 C (135 to 70 F) within 2 hours and to 5 C (41 F) within 6 hours in all. \
                 Shallow, uncovered, small portions, or a stirred bath of ice: a full pot in a refrigerator is too slow."
            }
            Caution::Holding => {
                "Keep hot food at 57 C (135 F) or hotter, in some countries 60 or 63 C, and do not warm it up slowly."
            }
            Caution::Reheating => {
                "Heat cooked and cooled food to 74 C (165 F) throughout, within 2 hours, and only once."
            }
            Caution::LowOven => {
                "Home cooks are advised to roast meat at 163 C (325 F) or hotter; a cooler oven needs the rules and the \
                 thermometer of licensed practice."
            }
            Caution::RawEgg => {
                "Raw or lightly cooked eggs are not for the very young, the old, the pregnant or the ill; 71 C (160 F) makes them safe."
            }
            Caution::HotFat => {
                "Hot fat burns: dry the food, leave room in the pan, stay with it, lid at hand, never water."
            }
            Caution::Steam => "Steam and boiling liquid burn: open lids and oven doors away from you.",
        }
    }

    /// Where its figures come from.
    pub fn source(self) -> &'static str {
        match self {
            Caution::Undercooked | Caution::RawEgg => {
                "USDA FSIS, Safe Minimum Internal Temperature Chart (14 April 2025)"
            }
            Caution::SlowCooling => "FDA Food Code 3-501.14(A)",
            Caution::Holding => {
                "FDA Food Code 3-501.16(A); 60 C: FSANZ 2-hour/4-hour rule; 63 C: Food Hygiene (Scotland) Regulations 2006"
            }
            Caution::Reheating => "FDA Food Code 3-403.11(A) and (D); \"only once\" is common practice, no source",
            Caution::LowOven => "USDA FSIS consumer guidance",
            Caution::HotFat | Caution::Steam => "common practice, no source",
        }
    }
}

/// What is printed with every plan.
pub const DEFERENCE: &str = "These are the usual cautions. Local food codes and licensed practice come first.";

/// The cautions that apply to a step, in order.
pub(crate) fn of(kind: &Kind, contains: &[Contains], modes: &[Mode]) -> Vec<Caution> {
    let meat = contains.iter().any(|food| matches!(food, Contains::Meat | Contains::Mince | Contains::Poultry));
    let risky = !contains.is_empty();
    let egg = contains.contains(&Contains::Egg);
    let mut cautions = Vec::new();
    match kind {
        Kind::Roast | Kind::Finish | Kind::Grill | Kind::Bake | Kind::Braise | Kind::Sear if risky => {
            cautions.push(Caution::Undercooked);
        }
        Kind::Simmer | Kind::Boil => {
            if risky {
                cautions.push(Caution::Undercooked);
            }
            cautions.push(Caution::Steam);
        }
        Kind::Chill => cautions.push(Caution::SlowCooling),
        Kind::Hold => cautions.push(Caution::Holding),
        Kind::Reheat => cautions.extend([Caution::Reheating, Caution::Steam]),
        Kind::Fry => {
            if risky {
                cautions.push(Caution::Undercooked);
            }
            cautions.push(Caution::HotFat);
        }
        Kind::Beat | Kind::Dress if egg => cautions.push(Caution::RawEgg),
        _ => {}
    }
    if meat && *kind == Kind::Roast && modes.iter().any(|mode| mode.t.is_some_and(|t| t[1] < 163)) {
        cautions.push(Caution::LowOven);
    }
    cautions.sort_unstable();
    cautions
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The figures are those of the sources: 145 F + 3 min, 160 F, 165 F; 57, 21, 5 C in 2 and 6 h; 57 C; 74 C in 2 h; 325 F.
    #[test]
    fn every_caution_has_words_and_a_source() {
        for caution in Caution::ALL {
            assert!(caution.text().len() > 40 && !caution.source().is_empty(), "{caution:?}");
        }
    }

    #[test]
    fn what_can_hurt_carries_its_caution() {
        assert_eq!(of(&Kind::Fry, &[], &[]), [Caution::HotFat]);
        assert_eq!(of(&Kind::Chill, &[Contains::Rice], &[]), [Caution::SlowCooling]);
        assert_eq!(of(&Kind::Roast, &[Contains::Poultry], &[]), [Caution::Undercooked]);
        assert_eq!(of(&Kind::Roast, &[], &[]), []);
    }
}

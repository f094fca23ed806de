//! Limits that differ from place to place.

use serde::{Deserialize, Serialize};

use super::caution::{memory, read};
use crate::cook::Source;

/// Whose rules are followed.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Region {
    /// United States: FDA Food Code and USDA consumer advice.
    #[default]
    Us,
    /// United Kingdom.
    Uk,
    /// Australia: FSANZ Standard 3.2.2.
    Au,
    /// New Zealand: the Ministry for Primary Industries. Standard 3.2.2 does not go there.
    Nz,
}

/// What a kitchen says of itself beside its appliances.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Premises {
    /// Licensed, with the written procedures its food code asks for; otherwise a household.
    pub licensed: bool,
    /// The room, degrees C.
    pub room_c: i64,
    /// The refrigerator, degrees C.
    pub fridge_c: i64,
}

impl Default for Premises {
    /// A household at 21 C with a refrigerator at 4 C (our assumption).
    fn default() -> Self {
        Premises { licensed: false, room_c: 21, fridge_c: 4 }
    }
}

/// A limit and where it comes from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Limit {
    /// Degrees C, or minutes.
    pub value: f64,
    /// Where it comes from.
    pub source: Source,
}

const fn limit(value: f64, source: Source) -> Limit {
    Limit { value, source }
}

/// Cool from `from_c` to `to_c` in no more than `minutes`, counted from the moment the food is at the first `from_c`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct CoolingStage {
    /// Degrees C at which the clock starts.
    pub from_c: f64,
    /// Degrees C to be reached.
    pub to_c: f64,
    /// Minutes allowed, from the start of the first stage.
    pub minutes: f64,
    /// Where it comes from.
    pub source: Source,
}

const FOOD_CODE_COOLING: Source = read("FDA Food Code 3-501.14(A), as adopted by Maine and Maryland");
const MPI: Source = memory("MPI New Zealand, food control plan template");
const FSANZ_COOLING: Source = memory("FSANZ Standard 3.2.2, cooling clause");

impl Region {
    /// Every region.
    pub const ALL: &[Region] = &[Region::Us, Region::Uk, Region::Au, Region::Nz];

    /// At or below this, food keeps cold, degrees C.
    pub fn cold_c(self) -> Limit {
        match self {
            Region::Us => limit(5.0, read("FDA Food Code 3-501.16(A)(2), as adopted in WAC 246-215-03525")),
            Region::Uk => limit(8.0, read("UK chill limit 8 C, 5 C advised (training page quoting FSA)")),
            Region::Au => limit(5.0, read("FSANZ 2-hour/4-hour rule, Standard 3.2.2")),
            Region::Nz => limit(5.0, MPI),
        }
    }

    /// At or above this, food keeps hot, degrees C.
    pub fn hot_c(self) -> Limit {
        match self {
            Region::Us => limit(57.0, read("FDA Food Code 3-501.16(A)(1), as adopted in WAC 246-215-03525")),
            Region::Uk => limit(63.0, read("Food Hygiene (Scotland) Regulations 2006, schedule 4, paragraph 2")),
            Region::Au => limit(60.0, read("FSANZ 2-hour/4-hour rule, Standard 3.2.2")),
            Region::Nz => limit(60.0, MPI),
        }
    }

    /// Minutes that food may spend between the cold and the hot limit in all before it must be eaten or thrown away.
    pub fn between_minutes(self) -> Limit {
        match self {
            Region::Us => {
                limit(240.0, memory("FDA Food Code 3-501.19, time as a control; USDA advises home cooks 2 hours"))
            }
            Region::Uk => limit(120.0, memory("UK allowance of one spell of 2 hours below 63 C on display")),
            Region::Au => limit(240.0, read("FSANZ 2-hour/4-hour rule, Standard 3.2.2")),
            Region::Nz => limit(240.0, MPI),
        }
    }

    /// The most minutes that food which germs like may stand between the limits in all, in a household or a licensed
    /// kitchen, in a room so warm.
    pub fn standing(self, licensed: bool, room_c: i64) -> Limit {
        match self {
            Region::Us if licensed => self.between_minutes(),
            Region::Us if room_c > 32 => limit(60.0, read("USDA two-hour rule for home cooks: one hour above 90 F")),
            Region::Us => limit(120.0, read("USDA two-hour rule for home cooks")),
            _ => self.between_minutes(),
        }
    }

    /// Minutes between the limits up to which food may still be chilled again and kept.
    pub fn rechill_minutes(self) -> Limit {
        match self {
            Region::Us => limit(120.0, read("USDA two-hour rule for home cooks")),
            Region::Uk => limit(120.0, memory("UK allowance of one spell of 2 hours below 63 C on display")),
            Region::Au => limit(120.0, read("FSANZ 2-hour/4-hour rule, Standard 3.2.2")),
            Region::Nz => limit(120.0, MPI),
        }
    }

    /// Reheat to this centre temperature, degrees C.
    pub fn reheat_c(self) -> Limit {
        match self {
            Region::Us => limit(74.0, read("FDA Food Code 3-403.11(A), as adopted in COMAR 10.15.03.11")),
            Region::Uk => limit(75.0, read("UK practice 75 C, or 70 C for 2 minutes; Scotland 82 C (secondary pages)")),
            Region::Au => limit(74.0, read("no figure for Australia was read: FDA Food Code 3-403.11(A) stands in")),
            Region::Nz => limit(75.0, MPI),
        }
    }

    /// Reheating for hot holding must reach its temperature within so many minutes.
    pub fn reheat_minutes(self) -> Limit {
        match self {
            Region::Us => limit(120.0, read("FDA Food Code 3-403.11(D), as adopted in COMAR 10.15.03.11")),
            _ => limit(120.0, read("no figure for this region was read: FDA Food Code 3-403.11(D) stands in")),
        }
    }

    /// The stages of cooling; all of them must be met.
    pub fn cooling(self) -> &'static [CoolingStage] {
        const fn stage(from_c: f64, to_c: f64, minutes: f64, source: Source) -> CoolingStage {
            CoolingStage { from_c, to_c, minutes, source }
        }
        match self {
            Region::Us => {
                const { &[stage(57.0, 21.0, 120.0, FOOD_CODE_COOLING), stage(57.0, 5.0, 360.0, FOOD_CODE_COOLING)] }
            }
            Region::Uk => {
                const { &[stage(63.0, 8.0, 90.0, read("UK advice to cool within 90 minutes (secondary page)"))] }
            }
            Region::Au => const { &[stage(60.0, 21.0, 120.0, FSANZ_COOLING), stage(60.0, 5.0, 360.0, FSANZ_COOLING)] },
            Region::Nz => const { &[stage(60.0, 21.0, 120.0, MPI), stage(60.0, 5.0, 360.0, MPI)] },
        }
    }
}

//! Least centre temperatures.

use serde::{Deserialize, Serialize};

use super::Region;
use super::caution::{assumed, memory, read};
use crate::cook::{Meat, Source};

/// What was done to the meat before it is cooked.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Handling {
    /// Whole muscle: its inside has not been touched.
    #[default]
    Whole,
    /// Pierced, injected, rolled around a stuffing or tenderised: its inside may carry what was outside.
    Tenderised,
    /// Minced.
    Minced,
}

/// The least centre temperature, and how long it must stand.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Minimum {
    /// Degrees C in the middle.
    pub core_c: f64,
    /// Minutes to stand at or above it.
    pub stand_min: f64,
    /// Where it comes from.
    pub source: Source,
}

const CHART: Source = read("USDA FSIS Safe Minimum Internal Temperature Chart (April 2025)");
const TENDERISED: Source = assumed("tenderised or injected meat is held to the minced-meat row of the USDA FSIS chart");
const UK: Source = read("UK practice: 70 C for 2 minutes, or 75 C (secondary page quoting FSA)");
const UK_PINK: Source =
    memory("FSA: whole cuts of beef and lamb may be pink in the middle if they are browned all over");
const VEGETABLE: Source = assumed("vegetables: no minimum");

/// The least centre temperature for consumers. Stuffed food is held to poultry's. For Australia and New Zealand no table
/// was read, and the US one stands in.
pub fn minimum(meat: Meat, handling: Handling, stuffed: bool, region: Region) -> Minimum {
    let minimum = |core_c, stand_min, source| Minimum { core_c, stand_min, source };
    let inside = stuffed || meat == Meat::Poultry || handling != Handling::Whole;
    match (meat, handling) {
        (Meat::Vegetable, _) if !stuffed => minimum(0.0, 0.0, VEGETABLE),
        _ if region == Region::Uk && (inside || meat == Meat::Pork) => minimum(75.0, 0.0, UK),
        (Meat::Beef | Meat::Veal | Meat::Lamb, _) if region == Region::Uk => minimum(0.0, 0.0, UK_PINK),
        (Meat::Poultry, _) => minimum(73.9, 0.0, CHART),
        _ if stuffed => minimum(73.9, 0.0, read("USDA Turkey Basics: Stuffing (copy of the FSIS leaflet)")),
        (Meat::Fish, _) => minimum(62.8, 0.0, CHART),
        (_, Handling::Minced) => minimum(71.1, 0.0, CHART),
        (_, Handling::Tenderised) => minimum(71.1, 0.0, TENDERISED),
        (_, Handling::Whole) => minimum(62.8, 3.0, CHART),
    }
}

/// Whether the rise after the pull may be counted towards the serving temperature: not where a germ may sit in the middle.
pub fn carry_over_counts(meat: Meat, handling: Handling, stuffed: bool) -> bool {
    meat != Meat::Poultry && handling == Handling::Whole && !stuffed
}

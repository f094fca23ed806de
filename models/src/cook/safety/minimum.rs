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
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
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
const UK: Source = read("70 C for 2 minutes or an equal (secondary pages quoting FSA)");
const NZ: Source = read("70 C for 3 minutes or an equal (a training provider's page quoting MPI)");
const NZ_PINK: Source = read("whole cuts may be rare if they are seared (a training provider's page quoting MPI)");
const UK_PINK: Source =
    memory("FSA: whole cuts of beef and lamb may be pink in the middle if they are browned all over");
const VEGETABLE: Source = assumed("vegetables: no minimum");

/// Degrees C in the middle and the minutes to hold it there, each row as good as the other: what the Food Standards Agency
/// gives, as secondary pages quote it. For E. coli an advisory committee later asked for 14 min at 65 C and 93 min at 60 C;
/// what is planned here holds 70 C or more.
const UK_EQUALS: &[(f64, f64)] = &[(60.0, 45.0), (65.0, 10.0), (70.0, 2.0), (75.0, 0.5), (80.0, 0.1)];
/// The same for poultry and minced meat in New Zealand, as a training provider's page quotes the ministry.
const NZ_EQUALS: &[(f64, f64)] = &[(65.0, 15.0), (70.0, 3.0), (75.0, 0.5)];

impl Region {
    /// Temperatures in the middle and the minutes to hold them that are as good as each other, rising; none where a chart
    /// gives one figure.
    ///
    /// ```
    /// use rangewright_models::cook::safety::Region;
    ///
    /// assert!(Region::Uk.equals().contains(&(70.0, 2.0)));
    /// assert!(Region::Us.equals().is_empty());
    /// ```
    pub fn equals(self) -> &'static [(f64, f64)] {
        match self {
            Region::Uk => UK_EQUALS,
            Region::Nz => NZ_EQUALS,
            _ => &[],
        }
    }
}

/// The chart's own degrees Fahrenheit: rounded to a tenth of a degree Celsius, 165 F would fall below a limit of 165 F.
const fn fahrenheit(degrees: f64) -> f64 {
    (degrees - 32.0) * 5.0 / 9.0
}

impl Minimum {
    /// Whether a centre of `core_c` degrees C falls short of it. A hundredth of a degree is rounding, and nobody's reading.
    ///
    /// ```
    /// use rangewright_models::cook::safety::{Handling, Region, minimum};
    /// use rangewright_models::cook::Meat;
    ///
    /// let bird = minimum(Meat::Poultry, Handling::Whole, false, Region::Us);
    /// assert!(bird.missed_by(73.5) && !bird.missed_by((165.0 - 32.0) / 1.8));
    /// ```
    pub fn missed_by(&self, core_c: f64) -> bool {
        core_c < self.core_c - 0.01
    }

    /// Minutes to hold a centre of `core_c` degrees C, which must be the least or more: the hotter, the shorter.
    pub fn stand_at(&self, core_c: f64, region: Region) -> f64 {
        let row = region.equals().iter().rev().find(|(degrees, _)| *degrees <= core_c && *degrees >= self.core_c);
        row.filter(|_| self.stand_min > 0.0).map_or(self.stand_min, |(_, minutes)| minutes.min(self.stand_min))
    }
}

/// The least centre temperature for consumers. Stuffed food is held to poultry's. For Australia no table was read, and the US
/// one stands in; so it does for pork and fish in New Zealand.
pub fn minimum(meat: Meat, handling: Handling, stuffed: bool, region: Region) -> Minimum {
    let minimum = |core_c, stand_min, source| Minimum { core_c, stand_min, source };
    let inside = stuffed || meat == Meat::Poultry || handling != Handling::Whole;
    match (meat, handling) {
        (Meat::Vegetable, _) if !stuffed => minimum(0.0, 0.0, VEGETABLE),
        _ if region == Region::Uk && (inside || meat == Meat::Pork) => minimum(70.0, 2.0, UK),
        _ if region == Region::Nz && inside => minimum(70.0, 3.0, NZ),
        (Meat::Beef | Meat::Veal | Meat::Lamb, _) if region == Region::Nz => minimum(0.0, 0.0, NZ_PINK),
        (Meat::Beef | Meat::Veal | Meat::Lamb, _) if region == Region::Uk => minimum(0.0, 0.0, UK_PINK),
        (Meat::Poultry, _) => minimum(fahrenheit(165.0), 0.0, CHART),
        _ if stuffed => {
            minimum(fahrenheit(165.0), 0.0, read("USDA Turkey Basics: Stuffing (copy of the FSIS leaflet)"))
        }
        (Meat::Fish, _) => minimum(fahrenheit(145.0), 0.0, CHART),
        (_, Handling::Minced) => minimum(fahrenheit(160.0), 0.0, CHART),
        (_, Handling::Tenderised) => minimum(fahrenheit(160.0), 0.0, TENDERISED),
        (_, Handling::Whole) => minimum(fahrenheit(145.0), 3.0, CHART),
    }
}

/// Whether the rise after the pull may be counted towards the serving temperature: not where a germ may sit in the middle.
pub fn carry_over_counts(meat: Meat, handling: Handling, stuffed: bool) -> bool {
    meat != Meat::Poultry && handling == Handling::Whole && !stuffed
}

//! From guests to raw weights.
//!
//! Raw weights per adult are rules of the trade, bracketed by rows that were read (servings per pound of the USDA ARS,
//! butchers' guidance, extension sheets): see `tests/data/reference/portions.csv`.

use serde::{Deserialize, Serialize};

use crate::cook::fault::{Fault, Legal, none_of};
use crate::cook::{Known, Source};

/// Who sits down.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Guests {
    /// Adults: 0 to 1,000.
    pub adults: u32,
    /// Children, half a portion each: 0 to 1,000.
    #[serde(default)]
    pub children: u32,
    /// How hungry they are.
    #[serde(default)]
    pub appetite: Appetite,
    /// How many main dishes there are: 1 to 5.
    #[serde(default = "one")]
    pub mains: u32,
    /// How many side dishes: 0 to 20.
    #[serde(default)]
    pub sides: u32,
    /// Buy a quarter more, to have something left over.
    #[serde(default)]
    pub leftovers: bool,
}

fn one() -> u32 {
    1
}

/// How hungry guests are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Appetite {
    /// 15 % less (our assumption).
    Light,
    /// As the tables say.
    #[default]
    Usual,
    /// 15 % more (our assumption).
    Hearty,
}

impl Guests {
    fn check(&self) -> Result<(), Vec<Fault>> {
        let mut faults = Vec::new();
        Legal::new("adults", 0.0, 1_000.0, "").check(f64::from(self.adults), &mut faults);
        Legal::new("children", 0.0, 1_000.0, "").check(f64::from(self.children), &mut faults);
        Legal::new("mains", 1.0, 5.0, "").check(f64::from(self.mains), &mut faults);
        Legal::new("sides", 0.0, 20.0, "").check(f64::from(self.sides), &mut faults);
        if self.adults == 0 && self.children == 0 {
            faults.push(Fault::Missing { field: "adults", give: "say how many sit down" });
        }
        none_of(faults)
    }

    /// Portions of an adult, appetite and leftovers included.
    fn portions(&self) -> f64 {
        let appetite = match self.appetite {
            Appetite::Light => 0.85,
            Appetite::Usual => 1.0,
            Appetite::Hearty => 1.15,
        };
        let leftovers = if self.leftovers { 1.25 } else { 1.0 };
        (f64::from(self.adults) + 0.5 * f64::from(self.children)) * appetite * leftovers
    }
}

/// A main dish, as bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum MainDish {
    /// Rib on the bone.
    RibOnBone,
    /// A boneless roast.
    BonelessRoast,
    /// Trimmed fillet.
    Fillet,
    /// A whole turkey.
    Turkey,
    /// Leg of lamb on the bone.
    LegOnBone,
    /// Boneless meat to braise.
    Braise,
    /// Ham on the bone.
    HamOnBone,
}

/// What accompanies it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// Potatoes, rice, pasta and the like, cooked.
    Starch,
    /// Vegetables, cooked.
    Vegetable,
    /// Gravy or sauce, mL.
    Gravy,
    /// Salad leaves.
    Leaves,
}

/// How much, with its range.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Amount {
    /// To buy or to make, g (gravy: mL).
    pub grams: f64,
    /// From a modest to a generous table.
    pub range_g: [f64; 2],
    /// Where the portion comes from.
    pub source: Source,
}

const TRADE: Source = Source::new("festive main with three to five sides, as bought per adult", Known::CommonPractice);
const SIDES: Source = Source::new("half-cup rule and 3 oz of gravy (catering excerpts; grams recomputed)", Known::Read);

/// Raw weight of one of the main dishes.
///
/// With two mains each is 60 to 65 % of a full one (common practice); with more, we take 1.25 portions in all.
///
/// # Errors
/// Every number out of its range.
///
/// ```
/// use rangewright_models::cook::portions::{Appetite, Guests, MainDish, main_dish};
///
/// let guests = Guests { adults: 12, children: 2, appetite: Appetite::Usual, mains: 1, sides: 4, leftovers: false };
/// let lamb = main_dish(&guests, MainDish::LegOnBone)?;
/// assert_eq!(lamb.grams, 13.0 * 395.0);
/// # Ok::<(), Vec<rangewright_models::cook::Fault>>(())
/// ```
pub fn main_dish(guests: &Guests, dish: MainDish) -> Result<Amount, Vec<Fault>> {
    guests.check()?;
    let [lo, hi] = match dish {
        MainDish::RibOnBone => [400.0, 500.0],
        MainDish::BonelessRoast => [280.0, 340.0],
        MainDish::Fillet => [200.0, 225.0],
        MainDish::Turkey => [450.0, 570.0],
        MainDish::LegOnBone => [340.0, 450.0],
        MainDish::Braise => [250.0, 310.0],
        MainDish::HamOnBone => [300.0, 380.0],
    };
    let share = match guests.mains {
        1 => 1.0,
        2 => 0.625,
        mains => 1.25 / f64::from(mains),
    };
    Ok(amount(guests.portions() * share, [lo, hi], TRADE))
}

/// Amount of one of the side dishes: with more than three of them three quarters of a full portion each, with more than
/// five six tenths (common practice).
///
/// # Errors
/// Every number out of its range.
pub fn side(guests: &Guests, side: Side) -> Result<Amount, Vec<Fault>> {
    guests.check()?;
    let range = match side {
        Side::Starch | Side::Vegetable => [120.0, 180.0],
        Side::Gravy => [60.0, 90.0],
        Side::Leaves => [30.0, 45.0],
    };
    let share = match guests.sides {
        0..=3 => 1.0,
        4..=5 => 0.75,
        _ => 0.6,
    };
    let share = if side == Side::Gravy { 1.0 } else { share };
    Ok(amount(guests.portions() * share, range, SIDES))
}

fn amount(portions: f64, [lo, hi]: [f64; 2], source: Source) -> Amount {
    Amount { grams: portions * (lo + hi) / 2.0, range_g: [portions * lo, portions * hi], source }
}

/// Raw weight for a carved, served weight: `served / ((1 - bone)(1 - cooking loss)(1 - carving loss))`.
///
/// # Errors
/// Every number out of its range: grams 1 to 1,000,000, shares 0 to 0.9.
///
/// ```
/// let raw = rangewright_models::cook::portions::raw_for_served(200.0, 0.18, 0.14, 0.04).unwrap();
/// assert_eq!(raw.round(), 295.0);
/// ```
pub fn raw_for_served(served_g: f64, bone: f64, cooking_loss: f64, carving_loss: f64) -> Result<f64, Vec<Fault>> {
    let mut faults = Vec::new();
    Legal::new("served_g", 1.0, 1_000_000.0, "g").check(served_g, &mut faults);
    Legal::new("bone", 0.0, 0.9, "").check(bone, &mut faults);
    Legal::new("cooking_loss", 0.0, 0.9, "").check(cooking_loss, &mut faults);
    Legal::new("carving_loss", 0.0, 0.9, "").check(carving_loss, &mut faults);
    none_of(faults)?;
    Ok(served_g / ((1.0 - bone) * (1.0 - cooking_loss) * (1.0 - carving_loss)))
}

//! Cuts: what they are made of and what shape heat finds them in.
//!
//! Shapes are those of a round body of the same thickness; the ratios are our own assumptions about how such a piece
//! lies, each chosen once and listed beside the published rows in ROASTING.md. Thickness governs time, so a measured
//! thickness beats every ratio: `t ~ thickness^1.7`, while a longer piece of the same thickness takes hardly longer.

use serde::{Deserialize, Serialize};

use super::food::Composition;

/// Whose flesh it is: it decides composition and the rules of safety.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Meat {
    /// Beef.
    Beef,
    /// Veal.
    Veal,
    /// Lamb or mutton.
    Lamb,
    /// Pork, fresh or cured, uncooked.
    Pork,
    /// Chicken, turkey, duck, goose and other birds.
    Poultry,
    /// Fish.
    Fish,
    /// Vegetables roasted whole.
    Vegetable,
}

/// A cut, or a plain shape for what is none of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Cut {
    /// Rib: standing if it has its bones, else rolled.
    Rib,
    /// Round, rump or topside.
    Round,
    /// Fillet (tenderloin), whole.
    Fillet,
    /// Loin.
    Loin,
    /// Leg, of lamb or of pork; rolled if it has no bone.
    Leg,
    /// Shoulder, boned and rolled.
    Shoulder,
    /// A whole bird.
    Bird,
    /// Something long and round.
    Cylinder,
    /// Something flat, heated from both faces: a side of fish.
    Slab,
    /// Something round all over.
    Ball,
    /// Something with corners; give thickness, breadth and length.
    Brick,
}

/// The body that stands for a roast, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
pub enum Solid {
    /// A round bar.
    Cylinder {
        /// Thickness.
        diameter_mm: f64,
        /// Length.
        length_mm: f64,
    },
    /// A flat piece much broader than thick.
    Slab {
        /// Thickness.
        thickness_mm: f64,
    },
    /// A ball.
    Ball {
        /// Thickness.
        diameter_mm: f64,
    },
    /// A block.
    Brick {
        /// Least edge.
        thickness_mm: f64,
        /// Middle edge.
        breadth_mm: f64,
        /// Longest edge.
        length_mm: f64,
    },
}

impl Solid {
    /// The thickness that governs the time, mm.
    pub fn thickness_mm(&self) -> f64 {
        match *self {
            Solid::Cylinder { diameter_mm, .. } | Solid::Ball { diameter_mm } => diameter_mm,
            Solid::Slab { thickness_mm } | Solid::Brick { thickness_mm, .. } => thickness_mm,
        }
    }
}

/// Thickness of a standing rib, mm: fitted so that the row of 4 to 6 lb at 162.8 C to 62.8 C of the FoodSafety.gov
/// roasting chart comes out at the middle of its 115 to 125 minutes.
pub(super) const RIB_THICKNESS: f64 = 129.6;
/// Length of a standing rib, mm per kg as bought: four ribs of about 50 mm weigh about 4.3 kg (our assumption).
pub(super) const RIB_LENGTH: f64 = 46.4;

impl Cut {
    /// Length over thickness of a piece known by weight alone.
    pub(super) fn ratio(self, bone: bool, tied: bool) -> f64 {
        match (self, bone, tied) {
            (Cut::Rib | Cut::Bird, _, _) => 1.2,
            (Cut::Round, _, _) => 1.4,
            (Cut::Fillet, _, true) => 4.0,
            (Cut::Fillet, _, false) => 5.4,
            (Cut::Loin, _, _) => 3.1,
            (Cut::Leg, true, _) => 2.3,
            (Cut::Leg, false, _) => 1.7,
            (Cut::Shoulder, _, _) => 1.1,
            (Cut::Cylinder, _, _) => 2.0,
            (Cut::Slab | Cut::Ball | Cut::Brick, _, _) => 1.0,
        }
    }

    /// The volume that heat has to fill, as a share of the volume of as much flesh: a bird is hollow. Both shares are
    /// fitted to the first rows (8 to 12 lb) of the USDA turkey timetable, unstuffed and stuffed.
    pub(super) fn filled(self, stuffed: bool) -> f64 {
        match (self, stuffed) {
            (Cut::Bird, false) => 0.405,
            (Cut::Bird, true) => 0.49,
            _ => 1.0,
        }
    }
}

/// What a cut of a meat is made of: the nearest entry of the nutrient tables.
pub fn composition(meat: Meat, cut: Cut) -> &'static Composition {
    match (meat, cut) {
        (Meat::Beef, Cut::Rib) => &Composition::BEEF_RIB,
        (Meat::Beef, Cut::Fillet) => &Composition::BEEF_FILLET,
        (Meat::Beef, _) => &Composition::BEEF_ROUND,
        (Meat::Veal, _) => &Composition::BEEF_LEAN,
        (Meat::Lamb, _) => &Composition::LAMB_LEG,
        (Meat::Pork, _) => &Composition::PORK_LOIN,
        (Meat::Poultry, Cut::Bird | Cut::Leg) => &Composition::TURKEY_DARK,
        (Meat::Poultry, _) => &Composition::TURKEY_BREAST,
        (Meat::Fish, _) => &Composition::SALMON,
        (Meat::Vegetable, _) => &Composition::POTATO,
    }
}

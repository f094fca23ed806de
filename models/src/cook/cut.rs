//! Cuts: what they are made of and what shape heat finds them in.
//!
//! Shapes are those of a round body of the same thickness, which grows with the weight; how thick each cut is and how it
//! grows is fitted to published rows ([`fitted`](super::fitted)). Thickness governs time, so a measured thickness beats
//! every guess: `t ~ thickness^1.7`, while a longer piece of the same thickness takes hardly longer.

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
    /// Eye of round: one slender muscle, twice as long as it is thick.
    Eye,
    /// Fillet (tenderloin), whole.
    Fillet,
    /// Loin.
    Loin,
    /// Leg, of lamb or of pork; rolled if it has no bone.
    Leg,
    /// Shoulder, boned and rolled.
    Shoulder,
    /// A whole bird: chicken, turkey and the like.
    Bird,
    /// A whole duck or goose: fat, and slower than its weight.
    Duck,
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

/// What a cut of a meat is made of: the nearest entry of the nutrient tables.
pub fn composition(meat: Meat, cut: Cut) -> &'static Composition {
    match (meat, cut) {
        (Meat::Beef, Cut::Rib) => &Composition::BEEF_RIB,
        (Meat::Beef, Cut::Fillet) => &Composition::BEEF_FILLET,
        (Meat::Beef, _) => &Composition::BEEF_ROUND,
        (Meat::Veal, _) => &Composition::BEEF_LEAN,
        (Meat::Lamb, _) => &Composition::LAMB_LEG,
        (Meat::Pork, _) => &Composition::PORK_LOIN,
        (Meat::Poultry, Cut::Bird | Cut::Duck | Cut::Leg) => &Composition::TURKEY_DARK,
        (Meat::Poultry, _) => &Composition::TURKEY_BREAST,
        (Meat::Fish, _) => &Composition::SALMON,
        (Meat::Vegetable, _) => &Composition::POTATO,
    }
}

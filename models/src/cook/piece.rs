//! A piece of meat as a cook describes it, before anything is worked out from it.

use serde::{Deserialize, Serialize};

use super::safety::Handling;
use super::{Cut, Meat};
use crate::units::Temperature;

/// A piece to roast. Lengths in mm, weight in g.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Piece {
    /// Whose flesh it is.
    pub meat: Meat,
    /// The cut.
    pub cut: Cut,
    /// As bought; absent: from the guests, unless the thickness is known.
    pub weight: Option<i64>,
    /// At the thickest place.
    pub thickness: Option<i64>,
    /// Of a block.
    pub breadth: Option<i64>,
    /// From end to end.
    pub length: Option<i64>,
    /// With its bones.
    pub bone: bool,
    /// Tied to an even thickness.
    pub tied: bool,
    /// With a stuffing inside.
    pub stuffed: bool,
    /// What was done to it before.
    pub handling: Handling,
    /// How it is when the work begins.
    pub start: Start,
}

/// The temperature of a piece when the work begins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Start {
    /// From the refrigerator, 5 C.
    #[default]
    Fridge,
    /// So hot.
    At(Temperature),
    /// Frozen: it thaws in the refrigerator first.
    Frozen,
}

//! A roast whose minutes are worked out from what it is, and other steps that a cooking model fills in.

use crate::cook::chill::{Cooler, Texture};
use crate::cook::{Cover, Piece};
use crate::problem::Heat;
use crate::units::{Interval, Temperature};

/// A roast as a cook describes it. The compiler makes steps of it: thawing, a hot start, the long stage in one way for each
/// oven and temperature, a hot finish, and the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct Joint {
    /// What is roasted.
    pub piece: Piece,
    /// The highest centre temperature wanted during the rest.
    pub to: Temperature,
    /// The centre at which the long stage ends, if the cook says that: what it comes to then follows.
    pub until: Option<Temperature>,
    /// Lowest and highest oven temperature accepted for the long stage.
    pub accepts: [Temperature; 2],
    /// The oven temperature liked best; absent: all are liked alike.
    pub best: Option<Temperature>,
    /// A hot stage before or after the long one.
    pub hot: Option<Hot>,
    /// How long it rests; absent: 20 to 60 minutes.
    pub rest: Option<Interval>,
    /// What it rests under.
    pub cover: Cover,
    /// The cook's own minutes for the long stage, in place of the model's.
    pub allow: Option<i64>,
    /// What is set aside for a late roast.
    pub margin: Margin,
    /// So many pans of cold food go into its oven about when it does: 0 to 9.
    pub beside: u32,
}

/// A hot stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hot {
    /// Before the long stage; otherwise after it.
    pub first: bool,
    /// The heat of the oven.
    pub at: Temperature,
    /// Minutes at that heat; a finish takes the rise of the oven on top.
    pub minutes: i64,
    /// How long the roast stands outside before a finish; absent: it stays in the oven.
    pub after: Option<Interval>,
}

/// Minutes set aside beyond the estimate, so that a late roast is in time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Margin {
    /// Up to the late end of the range.
    #[default]
    Range,
    /// So many; none is 0.
    Minutes(i64),
}

/// The oven temperatures that a bake or a gratin accepts beside the one at which its minutes are known.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Accepts {
    /// Lowest and highest.
    pub window: [Temperature; 2],
    /// The heat for which the minutes are known; absent: for any.
    pub known: Option<Heat>,
    /// Done when its middle is so hot; absent: 90 C.
    pub done: Option<Temperature>,
    /// So many other pans of cold food go into its oven about when it does: 0 to 9.
    pub beside: u32,
}

/// How hot food is cooled, as far as the cooling model asks.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cools {
    /// Depth of the food, mm; absent: from pan and weight.
    pub depth: Option<i64>,
    /// What takes the heat away.
    pub cooler: Cooler,
    /// Covered.
    pub covered: bool,
    /// How it moves.
    pub texture: Texture,
}

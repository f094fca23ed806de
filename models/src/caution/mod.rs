//! The usual cautions, and where they apply.

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
    /// Hot fat.
    HotFat,
    /// Steam and boiling liquid.
    Steam,
}

impl Caution {
    /// The caution in a sentence or two for the sheet.
    pub fn text(self) -> &'static str {
        ""
    }

    /// Where its figures come from.
    pub fn source(self) -> &'static str {
        ""
    }
}

/// What is printed with every plan.
pub const DEFERENCE: &str = "Local food codes and licensed practice come first.";

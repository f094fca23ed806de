//! The named building blocks of a dish.

use std::fmt;

use crate::problem::Wait;

/// What is done in a step. Each kind has its own defaults (see [`blocks`](crate::blocks)).
#[derive(Clone, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Kind {
    /// Wash, peel, cut, mix: work at the counter.
    Prep,
    /// Lie in water, brine or marinade.
    Soak,
    /// Dough rises.
    Prove,
    /// Brown over high heat, standing by.
    Sear,
    /// Cook gently in liquid on the hob.
    Simmer,
    /// Cook in bubbling water on the hob.
    Boil,
    /// Cook in liquid that hardly moves, on the hob.
    Poach,
    /// Cook in steam over bubbling water on the hob.
    Steam,
    /// Cook slowly under a lid in the oven.
    Braise,
    /// Cook in the oven until the middle is done.
    Roast,
    /// End a roast hotter, without taking it out of its oven.
    Finish,
    /// Bake.
    Bake,
    /// Brown under the grill, standing by.
    Grill,
    /// Colour bread or nuts under the grill, standing by.
    Toast,
    /// Let meat rest out of the oven.
    Rest,
    /// Cool down in the refrigerator.
    Chill,
    /// Heat again what was cooked and cooled.
    Reheat,
    /// Fry at the last minute, standing by.
    Fry,
    /// Toss in a hot pan or wok, standing by.
    StirFry,
    /// Fry in deep fat, standing by.
    DeepFry,
    /// Whip or beat at the last minute.
    Beat,
    /// Dress a salad or finish a cold dish.
    Dress,
    /// Carve.
    Carve,
    /// Put on plates or in bowls.
    Plate,
    /// Keep hot.
    Hold,
    /// Warm the plates.
    Warm,
    /// Anything else, with its own word and no defaults.
    Other(String),
}

impl Kind {
    /// Every kind that has a name of its own.
    pub const ALL: &[Kind] = &[
        Kind::Prep,
        Kind::Soak,
        Kind::Prove,
        Kind::Sear,
        Kind::Simmer,
        Kind::Boil,
        Kind::Poach,
        Kind::Steam,
        Kind::Braise,
        Kind::Roast,
        Kind::Finish,
        Kind::Bake,
        Kind::Grill,
        Kind::Toast,
        Kind::Rest,
        Kind::Chill,
        Kind::Reheat,
        Kind::Fry,
        Kind::StirFry,
        Kind::DeepFry,
        Kind::Beat,
        Kind::Dress,
        Kind::Carve,
        Kind::Plate,
        Kind::Hold,
        Kind::Warm,
    ];

    /// Other common words for a kind, in lower case: each with the kind it means.
    pub const SYNONYMS: &[(&str, Kind)] = &[
        ("broil", Kind::Grill),
        ("brown", Kind::Sear),
        ("saute", Kind::StirFry),
        ("sauté", Kind::StirFry),
        ("stirfry", Kind::StirFry),
        ("deepfry", Kind::DeepFry),
        ("proof", Kind::Prove),
        ("rise", Kind::Prove),
        ("marinate", Kind::Soak),
        ("whip", Kind::Beat),
        ("refrigerate", Kind::Chill),
    ];

    /// The word of the trade, in lower case: `roast`.
    pub fn word(&self) -> &str {
        match self {
            Kind::Prep => "prep",
            Kind::Soak => "soak",
            Kind::Prove => "prove",
            Kind::Sear => "sear",
            Kind::Simmer => "simmer",
            Kind::Boil => "boil",
            Kind::Poach => "poach",
            Kind::Steam => "steam",
            Kind::Braise => "braise",
            Kind::Roast => "roast",
            Kind::Finish => "finish",
            Kind::Bake => "bake",
            Kind::Grill => "grill",
            Kind::Toast => "toast",
            Kind::Rest => "rest",
            Kind::Chill => "chill",
            Kind::Reheat => "reheat",
            Kind::Fry => "fry",
            Kind::StirFry => "stir-fry",
            Kind::DeepFry => "deep-fry",
            Kind::Beat => "beat",
            Kind::Dress => "dress",
            Kind::Carve => "carve",
            Kind::Plate => "plate",
            Kind::Hold => "hold",
            Kind::Warm => "warm",
            Kind::Other(word) => word,
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// Where food stands until it goes on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Stand {
    /// In the refrigerator, on a shelf of it where the kitchen counts them.
    Refrigerator,
    /// On the counter.
    Counter,
    /// Covered, in a warm place: the back of the stove, a switched-off oven that nothing else needs.
    Warm,
    /// Covered in its pot on the hob, which is off and which nothing else needs.
    Hob,
}

impl Stand {
    /// `in the refrigerator`.
    pub fn said(self) -> &'static str {
        match self {
            Stand::Refrigerator => "in the refrigerator",
            Stand::Counter => "on the counter",
            Stand::Warm => "covered, in a warm place",
            Stand::Hob => "covered, in its pot off the heat",
        }
    }
}

/// How food bears waiting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Keeps {
    /// Nothing is lost by waiting.
    Free,
    /// For hours, in the cold.
    Cold,
    /// For an hour, warm or at room temperature.
    Warm,
    /// For minutes, hot.
    Hot,
    /// Hardly at all: what is fried or beaten.
    Fragile,
    /// As given.
    Costs(Wait),
}

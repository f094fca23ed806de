//! What a caution is about.

use std::fmt;

/// What a caution is about; the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Topic {
    /// Food may be undercooked.
    Undercooked,
    /// Raw poultry near what is eaten raw.
    RawPoultry,
    /// Food cools too slowly.
    SlowCooling,
    /// Food is held lukewarm.
    Holding,
    /// Food is not reheated through.
    Reheating,
    /// An oven is too cool for meat.
    LowOven,
    /// Food thaws.
    Thawing,
    /// Raw or lightly cooked eggs.
    RawEgg,
    /// Tools are shared with a dish that has an allergen.
    Allergen,
    /// A guest who does not eat everything.
    Diet,
    /// Hot fat.
    HotFat,
    /// Steam and boiling liquid.
    Steam,
}

impl Topic {
    /// Every topic.
    pub const ALL: &[Topic] = &[
        Topic::Undercooked,
        Topic::RawPoultry,
        Topic::SlowCooling,
        Topic::Holding,
        Topic::Reheating,
        Topic::LowOven,
        Topic::Thawing,
        Topic::RawEgg,
        Topic::Allergen,
        Topic::Diet,
        Topic::HotFat,
        Topic::Steam,
    ];

    /// A few words for the place where it bites: `cook it through`.
    pub fn short(self) -> &'static str {
        match self {
            Topic::Undercooked => "cook it through",
            Topic::RawPoultry => "keep raw poultry apart",
            Topic::SlowCooling => "cool it fast",
            Topic::Holding => "keep it hot or keep it cold",
            Topic::Reheating => "heat it right through",
            Topic::LowOven => "low oven",
            Topic::Thawing => "thaw it in the cold",
            Topic::RawEgg => "raw egg",
            Topic::Allergen => "allergens",
            Topic::Diet => "who eats it",
            Topic::HotFat => "hot fat",
            Topic::Steam => "steam",
        }
    }
}

impl fmt::Display for Topic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.short())
    }
}

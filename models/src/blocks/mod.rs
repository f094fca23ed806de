//! The defaults of each kind of step: where it is done, whose hands it needs, how the food bears waiting.
//!
//! All of them are common practice, no source; a menu overrides each one by saying the field.
//!
//! | step | where | hands | keeps afterwards | besides |
//! |---|---|---|---|---|
//! | `Prep` | counter | one throughout | cold | |
//! | `Soak`, `Prove` | counter | 2 min at the start | cold, warm | stretching is free |
//! | `Sear` | hob, high | one throughout | warm | |
//! | `Simmer` | hob, low to medium | 2 min at the start, 1 at the end | hot | |
//! | `Boil` | hob, high | 2 min at the start, 2 at the end | hot | |
//! | `Poach` | hob, low to medium | 2 min at the start, 1 at the end | hot | |
//! | `Steam` | hob, medium | 2 min at the start, 2 at the end | hot | |
//! | `Braise` | oven | 2 min in, 2 min out | hot | |
//! | `Roast` | oven | 2 min in, 2 min out | hot | |
//! | `Finish` | oven | 2 min out | hot | the pan stays in the oven of the step before |
//! | `Bake` | oven | 1 min in, 2 min out | warm | |
//! | `Grill` | grill, 220 to 280 C | one throughout | hot | |
//! | `Toast` | grill, 200 to 280 C | one throughout | fragile | |
//! | `Rest` | counter | none | hot | at once; free up to `likes`, by default half of its range |
//! | `Chill` | a shelf of the refrigerator, if the kitchen counts them | 3 min in | cold | within an hour; stretching is free |
//! | `Reheat` | hob, medium, or oven if a temperature is said | 2 min at the start, 1 at the end | hot | |
//! | `Fry` | hob, high | one throughout | fragile | |
//! | `Stir-fry` | hob, high | one throughout | fragile | |
//! | `Deep-fry` | hob, high | one throughout | fragile | |
//! | `Beat` | counter | one throughout | fragile | |
//! | `Dress` | counter | one throughout | warm | |
//! | `Carve`, `Plate` | counter | one throughout | as before | `Plate` takes half a minute for each guest, at least 4 min |
//! | `Hold` | oven or drawer, 65 to 85 C | 1 min in, 1 min out | as before | at once; stretching costs like waiting |
//! | `Warm` | oven or drawer, 60 to 80 C | 1 min in, 1 min out | warm | stretching is free |
//! | `Step` | what it says | none | warm | |
//!
//! Waiting costs, a minute: food that keeps `cold` nothing for four hours, then 1; `warm` 1 for an hour, then 3; `hot` 3 for
//! ten minutes, then 8; `fragile` 10 for two minutes, then 30. Of waits that follow each other in a dish while the food keeps
//! in the same way, only the first has these softer minutes, the others cost the later rate from their first minute.

use crate::menu::{Interval, Keeps, Kind, Level};
use crate::problem::{Heat, Wait};

/// Where a kind of step is done if it does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Setting {
    /// On no appliance.
    Counter,
    /// In an oven or its like.
    Cavity,
    /// On burners or a top.
    Hob,
}

/// What it costs to stretch a kind of step beyond its least minutes, if it does not say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stretch {
    /// Like waiting of food that keeps in this way.
    Like(Keeps),
    /// Like waiting afterwards.
    AsAfterwards,
    /// Nothing for half of its range, then like waiting afterwards.
    HalfFree,
}

/// What a kind of step is if it does not say otherwise.
#[derive(Clone, Debug)]
pub struct Defaults {
    /// Where.
    pub setting: Setting,
    /// How long.
    pub takes: Option<Interval>,
    /// Air temperature in a cavity.
    pub temperature: Option<[i64; 2]>,
    /// Kinds of heat that will do.
    pub heats: &'static [Heat],
    /// Heat on the hob.
    pub level: Level,
    /// Hands throughout.
    pub hands: i64,
    /// Minutes of putting in and of taking out.
    pub load: [i64; 2],
    /// How the food keeps afterwards; absent: as before.
    pub keeps: Option<Keeps>,
    /// What stretching costs.
    pub stretch: Stretch,
    /// The gap after the step before.
    pub gap: Interval,
    /// The pan stays in the oven of the step before.
    pub stay: bool,
    /// It takes a shelf of the refrigerator.
    pub shelf: bool,
    /// The job in words; `{}` stands for the dish.
    pub title: &'static str,
}

const DRY_HEATS: &[Heat] = &[Heat::Fan, Heat::Static];
const ANY_TIME: Interval = Interval { min: 0, max: None };
const AT_ONCE: Interval = Interval { min: 0, max: Some(0) };

/// The defaults of a kind of step for so many guests.
pub fn defaults(kind: &Kind, guests: i64) -> Defaults {
    let plain = |title| Defaults {
        setting: Setting::Counter,
        takes: None,
        temperature: None,
        heats: DRY_HEATS,
        level: Level::Medium,
        hands: 0,
        load: [0, 0],
        keeps: Some(Keeps::Warm),
        stretch: Stretch::Like(Keeps::Free),
        gap: ANY_TIME,
        stay: false,
        shelf: false,
        title,
    };
    let by_hand = |title, keeps| Defaults { hands: 1, keeps, ..plain(title) };
    let lying = |title, keeps| Defaults { load: [2, 0], keeps: Some(keeps), ..plain(title) };
    let attended = |title, keeps| Defaults { setting: Setting::Hob, level: Level::High, ..by_hand(title, Some(keeps)) };
    let on_hob =
        |title, level, load| Defaults { setting: Setting::Hob, level, load, keeps: Some(Keeps::Hot), ..plain(title) };
    let in_oven = |title, load| Defaults { setting: Setting::Cavity, load, keeps: Some(Keeps::Hot), ..plain(title) };
    match kind {
        Kind::Prep => by_hand("Prepare {}", Some(Keeps::Cold)),
        Kind::Soak => lying("Soak {}", Keeps::Cold),
        Kind::Prove => lying("Let {} rise", Keeps::Warm),
        Kind::Sear => attended("Brown {}", Keeps::Warm),
        Kind::Simmer => on_hob("Simmer {}", Level::Gentle, [2, 1]),
        Kind::Boil => on_hob("Boil {}", Level::High, [2, 2]),
        Kind::Poach => on_hob("Poach {}", Level::Gentle, [2, 1]),
        Kind::Steam => on_hob("Steam {}", Level::Medium, [2, 2]),
        Kind::Braise => in_oven("Braise {}", [2, 2]),
        Kind::Roast => in_oven("Roast {}", [2, 2]),
        Kind::Finish => Defaults { gap: AT_ONCE, stay: true, ..in_oven("Turn the oven up to finish {}", [0, 2]) },
        Kind::Bake => Defaults { keeps: Some(Keeps::Warm), ..in_oven("Bake {}", [1, 2]) },
        Kind::Grill => {
            Defaults { temperature: Some([220, 280]), heats: &[Heat::Grill], hands: 1, ..in_oven("Grill {}", [0, 0]) }
        }
        Kind::Toast => Defaults {
            temperature: Some([200, 280]),
            heats: &[Heat::Grill],
            hands: 1,
            keeps: Some(Keeps::Fragile),
            ..in_oven("Toast {}", [0, 0])
        },
        Kind::Rest => {
            Defaults { keeps: Some(Keeps::Hot), stretch: Stretch::HalfFree, gap: AT_ONCE, ..plain("Let {} rest") }
        }
        Kind::Chill => Defaults {
            load: [3, 0],
            gap: Interval { min: 0, max: Some(60) },
            shelf: true,
            ..lying("Chill {}", Keeps::Cold)
        },
        Kind::Reheat => on_hob("Heat {} through", Level::Medium, [2, 1]),
        Kind::Fry => attended("Fry {}", Keeps::Fragile),
        Kind::StirFry => attended("Toss {} in the hot pan", Keeps::Fragile),
        Kind::DeepFry => attended("Fry {} in deep fat", Keeps::Fragile),
        Kind::Beat => by_hand("Beat {}", Some(Keeps::Fragile)),
        Kind::Dress => by_hand("Dress {}", Some(Keeps::Warm)),
        Kind::Carve => by_hand("Carve {}", None),
        Kind::Plate => {
            let half_a_minute_each = guests.saturating_add(1).div_euclid(2).clamp(4, 600);
            let takes = Some(Interval { min: half_a_minute_each, max: Some(half_a_minute_each) });
            Defaults { takes, ..by_hand("Plate {}", None) }
        }
        Kind::Hold => Defaults {
            temperature: Some([65, 85]),
            keeps: None,
            stretch: Stretch::AsAfterwards,
            gap: AT_ONCE,
            ..in_oven("Keep {} hot", [1, 1])
        },
        Kind::Warm => Defaults { temperature: Some([60, 80]), keeps: Some(Keeps::Warm), ..in_oven("Warm {}", [1, 1]) },
        Kind::Other(_) => plain("{}"),
    }
}

/// The defaults of every kind as a table for cooks, a line for each: the kind as menus write it, where it is done, whose hands
/// it needs, and how the food keeps afterwards.
///
/// ```
/// let table = rangewright_models::blocks::table();
/// assert!(table.contains(&["Steam".into(), "hob, medium".into(), "2 min in, 2 min out".into(), "hot".into()]));
/// ```
pub fn table() -> Vec<[String; 4]> {
    Kind::ALL
        .iter()
        .map(|kind| [name(kind), place(&defaults(kind, 0)), hands(&defaults(kind, 0)), keeping(kind)])
        .collect()
}

/// `StirFry` for `stir-fry`.
fn name(kind: &Kind) -> String {
    let capital = |part: &str| part[..1].to_uppercase() + &part[1..];
    kind.word().split('-').map(capital).collect()
}

fn place(defaults: &Defaults) -> String {
    let level = || match defaults.level {
        Level::Low => "low",
        Level::Gentle => "gentle",
        Level::Medium => "medium",
        Level::High | Level::Marks(_) => "high",
    };
    let oven = if defaults.heats == [Heat::Grill] { "grill" } else { "oven" };
    match (defaults.setting, defaults.temperature) {
        (Setting::Counter, _) if defaults.shelf => "refrigerator".to_owned(),
        (Setting::Counter, _) => "counter".to_owned(),
        (Setting::Hob, _) => format!("hob, {}", level()),
        (Setting::Cavity, Some([low, high])) => format!("{oven}, {low} to {high} C"),
        (Setting::Cavity, None) => oven.to_owned(),
    }
}

fn hands(defaults: &Defaults) -> String {
    match (defaults.hands, defaults.load) {
        (1.., _) => "throughout".to_owned(),
        (_, [0, 0]) => "none".to_owned(),
        (_, [load, 0]) => format!("{load} min in"),
        (_, [0, unload]) => format!("{unload} min out"),
        (_, [load, unload]) => format!("{load} min in, {unload} min out"),
    }
}

fn keeping(kind: &Kind) -> String {
    match defaults(kind, 0).keeps {
        None => "as before",
        Some(Keeps::Free) => "free",
        Some(Keeps::Cold) => "cold",
        Some(Keeps::Warm) => "warm",
        Some(Keeps::Hot) => "hot",
        Some(Keeps::Fragile) => "fragile",
        Some(Keeps::Costs(_)) => "at a cost of its own",
    }
    .to_owned()
}

/// What a wait costs. `first`: it is the first of the waits of its dish in which the food keeps in this way.
pub fn wait(keeps: Keeps, first: bool) -> Wait {
    let with_soft_minutes = match keeps {
        Keeps::Costs(wait) => return wait,
        Keeps::Free => Wait::default(),
        Keeps::Cold => Wait { rate: 0, soft: Some(240), rate_after: 1 },
        Keeps::Warm => Wait { rate: 1, soft: Some(60), rate_after: 3 },
        Keeps::Hot => Wait { rate: 3, soft: Some(10), rate_after: 8 },
        Keeps::Fragile => Wait { rate: 10, soft: Some(2), rate_after: 30 },
    };
    if first { with_soft_minutes } else { Wait { rate: with_soft_minutes.rate_after, soft: None, ..with_soft_minutes } }
}

/// Which of two bears waiting less; a cost of its own counts as the most delicate.
pub fn more_delicate(one: Keeps, other: Keeps) -> Keeps {
    let rank = |keeps| match keeps {
        Keeps::Free => 0,
        Keeps::Cold => 1,
        Keeps::Warm => 2,
        Keeps::Hot => 3,
        Keeps::Fragile => 4,
        Keeps::Costs(_) => 5,
    };
    if rank(other) > rank(one) { other } else { one }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_more_delicate_costs_more() {
        let order = [Keeps::Free, Keeps::Cold, Keeps::Warm, Keeps::Hot, Keeps::Fragile];
        for pair in order.windows(2) {
            for first in [true, false] {
                let [less, more] = [wait(pair[0], first), wait(pair[1], first)];
                assert!(less.rate <= more.rate && less.rate_after < more.rate_after, "{pair:?}");
                assert!(more.rate <= more.rate_after);
            }
            assert_eq!(more_delicate(pair[0], pair[1]), pair[1]);
        }
    }

    #[test]
    fn the_language_page_lists_every_kind() {
        let page = include_str!("../read/language.md");
        for [kind, place, hands, keeps] in table() {
            let line = format!("| `{kind}` | {place} | {hands} | {keeps} |");
            assert!(page.contains(&line), "the page lacks {line}");
        }
        for (word, kind) in Kind::SYNONYMS.iter().filter(|(word, _)| word.is_ascii()) {
            assert!(page.contains(&format!("`{word}`")), "the page lacks {word} for {kind}");
        }
    }

    #[test]
    fn every_kind_is_in_the_table() {
        let table = include_str!("mod.rs");
        for kind in Kind::ALL {
            let word = kind.word();
            let name = word[..1].to_uppercase() + &word[1..];
            assert!(table.contains(&format!("`{name}`")), "{name}");
        }
    }
}

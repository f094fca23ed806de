//! Quantities and words as they are typed: what is read of them is the same.

use serde::Serialize;

use crate::calendar::Clock;
use crate::cook::chill::Cooler;
use crate::kitchen::{PanSize, Stretch};
use crate::menu::{Amount, Interval, Keeps, Level, Measure};
use crate::units::{self, Temperature};

use super::{Record, Value};

/// The word of a choice: its data form.
pub(super) fn word(choice: &impl Serialize) -> String {
    serde_json::to_value(choice).ok().and_then(|word| word.as_str().map(str::to_owned)).unwrap_or_default()
}

pub(super) fn cooler(cooler: Cooler) -> &'static str {
    match cooler {
        Cooler::Kitchen => "kitchen",
        Cooler::Refrigerator => "refrigerator",
        Cooler::WalkIn => "walk-in",
        Cooler::Freezer => "freezer",
        Cooler::Chiller => "chiller",
        Cooler::IceBath => "ice bath",
        Cooler::StirredIceBath => "stirred ice bath",
    }
}

pub(super) fn minutes(minutes: i64) -> String {
    format!("{minutes} min")
}

pub(super) fn interval(own: Interval) -> String {
    own.to_string()
}

pub(super) fn clock(clock: Clock) -> String {
    clock.to_string()
}

/// From one time to another. The second is read as on the day of the first, or the day after, unless it says its day.
pub(super) fn stretch(own: &Stretch) -> String {
    let from = clock(own.from);
    let short = format!("{from} to {}", clock(Clock { day: 0, ..own.to }));
    if units::stretch(&short) == Ok([own.from, own.to]) {
        return short;
    }
    let to = if own.to.day == 0 { format!("0 days after {}", clock(own.to)) } else { clock(own.to) };
    format!("{from} to {to}")
}

/// So many parts of a whole, without zeros at the end.
fn decimal(parts: i64, whole: i64) -> String {
    format!("{}", parts as f64 / whole as f64)
}

/// Centimetres from millimetres.
fn centimetres(mm: i64) -> String {
    decimal(mm, 10)
}

pub(super) fn length(mm: i64) -> String {
    format!("{} cm", centimetres(mm))
}

pub(super) fn lengths([low, high]: [i64; 2]) -> String {
    format!("{} to {} cm", centimetres(low), centimetres(high))
}

pub(super) fn size(sides: &[i64]) -> String {
    let sides: Vec<String> = sides.iter().copied().map(centimetres).collect();
    format!("{} cm", sides.join(" x "))
}

pub(super) fn pan(own: PanSize) -> String {
    match own {
        PanSize::Box(sides) => size(&sides),
        PanSize::Round(across, Some(high)) => size(&[across, high]),
        PanSize::Round(across, None) => length(across),
    }
}

pub(super) fn weight(grams: i64) -> String {
    if grams < 1_000 { format!("{grams} g") } else { format!("{} kg", decimal(grams, 1_000)) }
}

pub(super) fn celsius(degrees: i64) -> String {
    format!("{degrees} C")
}

pub(super) fn range([low, high]: [i64; 2]) -> String {
    format!("{low} to {high} C")
}

pub(super) fn rate(degrees: i64) -> String {
    format!("{degrees} C in 10 min")
}

pub(super) fn marks([low, high]: [i64; 2]) -> String {
    if low == high { low.to_string() } else { format!("{low} to {high}") }
}

/// A temperature as it was written, exactly.
pub(super) fn degrees(own: Temperature) -> String {
    own.written()
}

pub(super) fn degree_range([low, high]: [Temperature; 2]) -> String {
    if low == high {
        return degrees(low);
    }
    format!("{} to {}", degrees(low), degrees(high))
}

pub(super) fn level(level: Level) -> String {
    match level {
        Level::Low => "low".to_owned(),
        Level::Gentle => "gentle".to_owned(),
        Level::Medium => "medium".to_owned(),
        Level::High => "high".to_owned(),
        Level::Marks(own) => marks(own),
    }
}

pub(super) fn amount(own: &Amount) -> Value {
    let number = decimal(own.hundredths, 100);
    let each = if own.each { " each" } else { "" };
    match &own.measure {
        Measure::Pieces(word) if word.is_empty() && !own.each && own.hundredths % 100 == 0 => {
            Value::from(own.hundredths / 100)
        }
        Measure::Pieces(word) if word.is_empty() => Value::from(format!("{number}{each}")),
        Measure::Pieces(word) => Value::from(format!("{number} {word}{each}")),
        Measure::Grams => Value::from(format!("{number} g{each}")),
        Measure::Millilitres => Value::from(format!("{number} ml{each}")),
    }
}

pub(super) fn keeps(own: &Keeps) -> Value {
    match own {
        Keeps::Free => Value::from("free"),
        Keeps::Cold => Value::from("cold"),
        Keeps::Warm => Value::from("warm"),
        Keeps::Hot => Value::from("hot"),
        Keeps::Fragile => Value::from("fragile"),
        Keeps::Costs(wait) => {
            let record = Record::new("Wait").with("rate", wait.rate).and("soft", wait.soft.map(minutes));
            Value::from(record.with("after", wait.rate_after))
        }
    }
}

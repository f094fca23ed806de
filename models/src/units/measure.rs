//! Numbers with units.

use std::borrow::Cow;

use super::number::{Ratio, number};
use super::temperature::{Temperature, degree_range, degrees};
use super::{Amount, Interval, Measure, PanSize, UnitError};

type Units = &'static [(&'static [&'static str], Ratio)];

const MINUTES: Units = &[
    (&["min", "mins", "minute", "minutes"], Ratio::new(1, 1)),
    (&["h", "hr", "hrs", "hour", "hours"], Ratio::new(60, 1)),
    (&["d", "day", "days"], Ratio::new(1440, 1)),
    (&["s", "sec", "secs", "second", "seconds"], Ratio::new(1, 60)),
];
const MILLIMETRES: Units = &[
    (&["mm"], Ratio::new(1, 1)),
    (&["cm"], Ratio::new(10, 1)),
    (&["m"], Ratio::new(1000, 1)),
    (&["in", "inch", "inches"], Ratio::new(254, 10)),
    (&["ft", "foot", "feet"], Ratio::new(3048, 10)),
];
const GRAMS: Units = &[
    (&["g", "gram", "grams"], Ratio::new(1, 1)),
    (&["kg"], Ratio::new(1000, 1)),
    (&["lb", "lbs", "pound", "pounds"], Ratio::new(45_359_237, 100_000)),
    (&["oz", "ounce", "ounces"], Ratio::new(45_359_237, 1_600_000)),
];
const MILLILITRES: Units = &[
    (&["ml"], Ratio::new(1, 1)),
    (&["cl"], Ratio::new(10, 1)),
    (&["dl"], Ratio::new(100, 1)),
    (&["l", "litre", "litres", "liter", "liters"], Ratio::new(1000, 1)),
];
const WATTS: Units = &[(&["w", "watt", "watts"], Ratio::new(1, 1)), (&["kw"], Ratio::new(1000, 1))];
/// Degrees on both scales, as differences.
pub(super) const DEGREES: Units =
    &[(&["c", "°c", "degc", "celsius"], Ratio::new(1, 1)), (&["f", "°f", "degf", "fahrenheit"], Ratio::new(5, 9))];

/// Whole minutes: `95 min`, `1 h 30 min`, and `1 h 55` as sheets say it.
pub fn minutes(text: &str) -> Result<i64, UnitError> {
    whole_minutes(sum(&with_minutes(text), MINUTES)?)
}

/// What follows hours without a unit is minutes, two figures of them.
fn with_minutes(text: &str) -> Cow<'_, str> {
    let text = text.trim();
    let tail = text.len() - text.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let before = text[..text.len() - tail].trim_end().to_lowercase();
    let hours = MINUTES[1].0.iter().any(|name| before.strip_suffix(name).is_some_and(ends_in_number));
    if tail == 2 && hours { Cow::Owned(format!("{text} min")) } else { Cow::Borrowed(text) }
}

fn ends_in_number(text: &str) -> bool {
    text.trim_end().ends_with(|c: char| c.is_ascii_digit())
}

/// Minutes from one number to another: `20 min`, `20 to 40 min`, `20 min or more`, `up to 40 min`; a minus sign is allowed.
pub fn interval(text: &str) -> Result<Interval, UnitError> {
    let text = text.trim();
    if let Some(most) = text.strip_prefix("up to ") {
        return ordered(0, minutes(most)?).map(|[min, max]| Interval { min, max: Some(max) });
    }
    if let Some(least) = text.strip_suffix(" or more") {
        return Ok(Interval { min: minutes(least)?, max: None });
    }
    let (low, high) = ends(text);
    ordered(minutes(&low)?, minutes(&high)?).map(|[min, max]| Interval { min, max: Some(max) })
}

/// Millimetres: `30 cm`, `12 in`.
pub fn length(text: &str) -> Result<i64, UnitError> {
    rounded(sum(text, MILLIMETRES)?)
}

/// Millimetres from one number to another: `16 to 30 cm`.
pub fn lengths(text: &str) -> Result<[i64; 2], UnitError> {
    between(text, MILLIMETRES, rounded)
}

/// Grams: `1.2 kg`, `3 lb 4 oz`.
pub fn weight(text: &str) -> Result<i64, UnitError> {
    rounded(sum(text, GRAMS)?)
}

/// What is bought, for the table or for each portion: `250 g each`, `1.5 l`, `2 bunches`, `1/4 each`.
///
/// A word that is neither a weight nor a volume is what the pieces are called.
pub fn amount(text: &str) -> Result<Amount, UnitError> {
    let text = text.trim();
    let each = text.strip_suffix("each").filter(|rest| rest.ends_with(' '));
    let own = each.unwrap_or(text).trim();
    let in_all = |units| sum(own, units);
    let (ratio, measure) = match (in_all(GRAMS), in_all(MILLILITRES)) {
        (Ok(grams), _) => (grams, Measure::Grams),
        (_, Ok(millilitres)) => (millilitres, Measure::Millilitres),
        _ => {
            let (pieces, word) = number(own)?;
            if word.contains(|c: char| c.is_ascii_digit()) {
                return Err(UnitError::NotAQuantity { found: text.to_owned() });
            }
            (pieces, Measure::Pieces(word.trim().to_owned()))
        }
    };
    let hundredths = rounded(ratio.times(Ratio::new(100, 1))?)?;
    Ok(Amount { hundredths, measure, each: each.is_some() })
}

/// Watts, or a bare number of anything else of which there is so much: `2 kW`, `2000`.
pub fn power(text: &str) -> Result<i64, UnitError> {
    rounded(sum(text, WATTS)?)
}

/// Whole degrees Celsius: `175 C`, `350 F`, `gas 7`. [`degrees`] keeps them exactly.
pub fn temperature(text: &str) -> Result<i64, UnitError> {
    degrees(text).map(Temperature::whole)
}

/// Whole degrees Celsius from one number to another: `150 to 160 C`. A single one stands for itself alone.
pub fn temperatures(text: &str) -> Result<[i64; 2], UnitError> {
    degree_range(text).map(|ends| ends.map(Temperature::whole))
}

/// Degrees per ten minutes: `110 C in 10 min`, `15 F in 1 min`.
pub fn rate_of_heat(text: &str) -> Result<i64, UnitError> {
    let (degrees, time) =
        text.split_once(" in ").ok_or_else(|| UnitError::NotAQuantity { found: text.trim().to_owned() })?;
    let minutes = minutes(time)?;
    if minutes < 1 {
        return Err(UnitError::Absurd);
    }
    rounded(sum(degrees, DEGREES)?.times(Ratio::new(10, i128::from(minutes)))?)
}

/// Millimetres in two or three directions: `40 x 30 x 12 cm`.
pub fn size(text: &str) -> Result<Vec<i64>, UnitError> {
    let parts: Vec<&str> = text.split(['x', '×']).map(str::trim).collect();
    let unit = unit_of(parts.last().copied().unwrap_or_default());
    parts
        .iter()
        .map(|part| if unit_of(part).is_empty() { length(&format!("{part} {unit}")) } else { length(part) })
        .collect()
}

/// The outer size of a pan: `40 x 30 x 12 cm`, round `28 x 14 cm` (across and high) or only `28 cm` across.
pub fn pan(text: &str) -> Result<PanSize, UnitError> {
    match size(text)?[..] {
        [width, depth, height] => Ok(PanSize::Box([width, depth, height])),
        [across, high] => Ok(PanSize::Round(across, Some(high))),
        [across] => Ok(PanSize::Round(across, None)),
        _ => Err(UnitError::NotAQuantity { found: text.trim().to_owned() }),
    }
}

/// Adds up numbers with units: `1 h 30 min`. A minus sign before the first holds for all.
pub(super) fn sum(text: &str, units: Units) -> Result<Ratio, UnitError> {
    let text = text.trim();
    let (minus, mut rest) = match text.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text),
    };
    let mut total = Ratio::ZERO;
    let mut terms = 0;
    while terms == 0 || !rest.is_empty() {
        let (value, after) = number(rest)?;
        let after = after.trim_start();
        let end = after.find(|c: char| c.is_whitespace() || c.is_ascii_digit()).unwrap_or(after.len());
        let unit = &after[..end];
        if unit.is_empty() {
            return Err(UnitError::NoUnit { number: rest.trim().to_owned() });
        }
        total = total.plus(value.times(scale(unit, units)?)?)?;
        rest = after[end..].trim_start();
        terms += 1;
        if terms > 4 {
            return Err(UnitError::NotAQuantity { found: text.to_owned() });
        }
    }
    Ok(if minus { total.negative() } else { total })
}

fn scale(unit: &str, units: Units) -> Result<Ratio, UnitError> {
    let lower = unit.to_lowercase();
    units
        .iter()
        .find(|(names, _)| names.contains(&lower.as_str()))
        .map(|(_, ratio)| *ratio)
        .ok_or_else(|| UnitError::WrongUnit { found: unit.to_owned() })
}

/// The two ends of `a to b unit`, each with its unit; a single quantity is both.
fn ends(text: &str) -> (String, String) {
    let text = text.trim();
    let split = text.split_once(" to ").or_else(|| text.split_once('–')).or_else(|| text.split_once(" - "));
    let Some((low, high)) = split else { return (text.to_owned(), text.to_owned()) };
    let unit = unit_of(high);
    // `1 h 30 to 2 h`: what has a unit already gets no other.
    let bare = !low.contains(char::is_alphabetic);
    let low = if bare { format!("{} {unit}", low.trim()) } else { low.trim().to_owned() };
    (low, high.trim().to_owned())
}

fn between(text: &str, units: Units, settle: impl Fn(Ratio) -> Result<i64, UnitError>) -> Result<[i64; 2], UnitError> {
    let (low, high) = ends(text);
    ordered(settle(sum(&low, units)?)?, settle(sum(&high, units)?)?)
}

fn ordered(low: i64, high: i64) -> Result<[i64; 2], UnitError> {
    if low <= high { Ok([low, high]) } else { Err(UnitError::UpsideDown) }
}

/// What follows the last digit of a quantity.
pub(super) fn unit_of(text: &str) -> &str {
    text.rfind(|c: char| c.is_ascii_digit()).map_or("", |digit| text[digit + 1..].trim())
}

fn rounded(ratio: Ratio) -> Result<i64, UnitError> {
    i64::try_from(ratio.round()).map_err(|_| UnitError::Absurd)
}

fn whole_minutes(ratio: Ratio) -> Result<i64, UnitError> {
    i64::try_from(ratio.whole().ok_or(UnitError::TooFine)?).map_err(|_| UnitError::Absurd)
}

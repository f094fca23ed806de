//! What is other than written, in a cook's words.

use super::Change;
use crate::kitchen::SHELF;
use crate::menu::{Amount, Measure, Step, slug};
use crate::units::{Interval, Units, spoken_minutes};

/// Portions by halves of them: `60`, `12 1/2`.
pub(super) fn portions(halves: i64) -> String {
    let half = if halves % 2 == 0 { "" } else { " 1/2" };
    format!("{}{half}", halves / 2)
}

/// A change, if there is one.
pub(super) fn change(what: String, written: String, made: String) -> Option<Change> {
    (written != made).then_some(Change { what, written, made })
}

/// The job of a step.
pub(super) fn title(step: &Step) -> String {
    step.title.clone().unwrap_or_else(|| capital(step.kind.word()))
}

/// With a capital letter first.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect()
}

/// What is bought for the table: pieces rounded up, as they are on the shopping list.
pub(super) fn amount(amount: &Amount, units: Units) -> String {
    let exact = amount.hundredths as f64 / 100.0;
    let whole = exact.round().max(1.0);
    match (&amount.measure, units) {
        (Measure::Grams, _) if exact >= 1_000.0 => units.weight(exact.round() as i64),
        (Measure::Grams, Units::Customary) => format!("{:.1} oz", exact / 28.349_523_125),
        (Measure::Millilitres, Units::Customary) => format!("{:.1} fl oz", exact / 29.573_529_562_5),
        (Measure::Grams, _) => format!("{whole} g"),
        (Measure::Millilitres, _) if exact >= 1_000.0 => format!("{} l", whole / 1_000.0),
        (Measure::Millilitres, _) => format!("{whole} ml"),
        (Measure::Pieces(word), _) => format!("{} {word}", exact.ceil()).trim_end().to_owned(),
    }
}

/// What is other in a step, if anything is.
pub(super) fn steps(before: &Step, now: &Step, units: Units) -> Option<Change> {
    let [written, made] = [before, now].map(|step| size(step, before, now, units));
    change(title(now), written, made)
}

/// The size of a step in that respect in which it is other.
fn size(step: &Step, before: &Step, now: &Step, units: Units) -> String {
    let pieces = |count: Option<i64>, one: &str, more: &str| match count.unwrap_or(1).max(1) {
        1 => format!("1 {one}"),
        count => format!("{count} {more}"),
    };
    let of = |weight: Option<i64>| weight.map_or_else(String::new, |weight| format!(" of {}", rounded(weight, units)));
    let weight = |step: &Step| step.joint.as_ref().map_or(step.way.weight, |joint| joint.piece.weight);
    let shelves = |step: &Step| step.way.uses.iter().find(|(name, _)| slug(name) == slug(SHELF)).map_or(1, |(_, &n)| n);
    if before.batches != now.batches {
        return pieces(step.batches, "batch", "batches");
    }
    if before.pans != now.pans || weight(before) != weight(now) {
        let word = if step.joint.is_some() { ["joint", "joints"] } else { ["pan", "pans"] };
        return pieces(step.pans, word[0], word[1]) + &of(weight(step));
    }
    if shelves(before) != shelves(now) {
        return pieces(Some(shelves(step)), "shelf of the refrigerator", "shelves of the refrigerator");
    }
    let way = step.ways.first().map_or_else(|| step.way.clone(), |way| way.clone().over(&step.way));
    match way.takes {
        Some(Interval { min, max: Some(max) }) if max > min => {
            format!("{} to {}", spoken_minutes(min), spoken_minutes(max))
        }
        Some(takes) => spoken_minutes(takes.min),
        None => String::new(),
    }
}

/// A weight to what a cook weighs: tens of grams from a kilogram on.
fn rounded(weight: i64, units: Units) -> String {
    if weight < 1_000 && units != Units::Customary {
        return format!("{weight} g");
    }
    units.weight((weight + 5) / 10 * 10)
}

//! The shopping in words: what, how much for the whole table, and for which dishes.

use rangewright::models::feast::Units;
use rangewright::models::labels::Bought;
use rangewright::models::menu::Measure;

use super::View;
use crate::words::capital;

/// An ounce, g: a sixteenth of the pound of 453.59237 g (international yard and pound agreement, 1959; recomputed).
const OUNCE: f64 = 28.349_523_125;
/// A fluid ounce of the United States, mL: a 128th of the gallon of 231 cubic inches of 25.4 mm (recomputed).
const FLUID_OUNCE: f64 = 29.573_529_562_5;

/// A line of the list.
pub(crate) struct ToBuy {
    pub(crate) what: String,
    pub(crate) amount: String,
    pub(crate) dishes: Vec<String>,
}

/// Everything the menu says it buys.
pub(crate) fn to_buy(view: &View<'_>) -> Vec<ToBuy> {
    let line = |own: &Bought| ToBuy {
        what: capital(&own.what),
        amount: amount(own, view.words.labels.units),
        dishes: own.dishes.iter().map(|dish| view.words.dish(dish).to_owned()).collect(),
    };
    view.words.labels.shopping.iter().map(line).collect()
}

/// Rounded up to what a shop weighs out: too much is left over, too little is missing.
fn amount(own: &Bought, units: Units) -> String {
    let exact = own.hundredths as f64 / 100.0;
    // Half a hundredth keeps what is a whole number from being rounded up for its binary fraction.
    let up = |value: f64, step: f64| ((value / step) - 0.005).ceil().max(1.0) * step;
    match (&own.measure, units) {
        (Measure::Pieces(word), _) => format!("{} {word}", up(exact, 1.0)).trim_end().to_owned(),
        (Measure::Grams, Units::Customary) => {
            let ounces = up(exact / OUNCE, 1.0);
            match ((ounces / 16.0).floor(), ounces % 16.0) {
                (pounds, rest) if pounds < 1.0 => format!("{rest} oz"),
                (pounds, rest) if rest < 1.0 => format!("{pounds} lb"),
                (pounds, rest) => format!("{pounds} lb {rest} oz"),
            }
        }
        (Measure::Millilitres, Units::Customary) => match up(exact / FLUID_OUNCE, 1.0) {
            ounces if ounces < 32.0 => format!("{ounces} fl oz"),
            ounces => format!("{} qt", up(ounces / 32.0, 0.25)),
        },
        (measure, _) => {
            let (small, large) = if *measure == Measure::Grams { ("g", "kg") } else { ("ml", "l") };
            match up(exact, if exact < 50.0 { 1.0 } else { 5.0 }) {
                few if few < 1000.0 => format!("{few} {small}"),
                _ => format!("{} {large}", up(exact, 10.0) / 1000.0),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(hundredths: i64, measure: Measure, units: Units) -> String {
        amount(&Bought { what: String::new(), hundredths, measure, dishes: Vec::new() }, units)
    }

    #[test]
    fn amounts_are_rounded_up_to_what_is_sold() {
        assert_eq!(said(350_000, Measure::Grams, Units::Metric), "3.5 kg");
        assert_eq!(said(350_001, Measure::Grams, Units::Metric), "3.5 kg");
        assert_eq!(said(350_100, Measure::Grams, Units::Metric), "3.51 kg");
        assert_eq!(said(24_800, Measure::Grams, Units::Metric), "250 g");
        assert_eq!(said(700, Measure::Grams, Units::Metric), "7 g");
        assert_eq!(said(140_000, Measure::Millilitres, Units::Metric), "1.4 l");
        assert_eq!(said(350, Measure::Pieces("bunches".to_owned()), Units::Metric), "4 bunches");
        assert_eq!(said(600, Measure::Pieces(String::new()), Units::Customary), "6");
        // 3.5 kg are 7.716 lb: 7 lb 11.46 oz.
        assert_eq!(said(350_000, Measure::Grams, Units::Customary), "7 lb 12 oz");
        assert_eq!(said(45_359, Measure::Grams, Units::Customary), "1 lb");
        // 1.4 L are 47.3 fl oz, 1.48 qt.
        assert_eq!(said(140_000, Measure::Millilitres, Units::Customary), "1.5 qt");
        assert_eq!(said(20_000, Measure::Millilitres, Units::Customary), "7 fl oz");
    }
}

//! Quantities as they are kept: minutes, millimetres, and what is bought.

use std::fmt;

use super::temperature::{Scale, Temperature};

/// The units a reader wishes to see.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Degrees Celsius, grams, centimetres.
    #[default]
    Metric,
    /// Degrees Fahrenheit, pounds and ounces, inches.
    Customary,
    /// Gas marks for ovens; everything else metric.
    Gas,
}

impl Units {
    /// An air or food temperature given in whole degrees Celsius, in words: `180 C`, `350 F`.
    ///
    /// Degrees Fahrenheit are rounded to the nearest 5, as dials are marked: what was written as 350 F is kept as 177 C in a
    /// problem and shown as 350 F again. What has to be exact is a [`Temperature`], shown by [`exactly`](Units::exactly).
    pub fn temperature(self, celsius: i64) -> String {
        match self {
            Units::Customary => {
                let fahrenheit = celsius as f64 * 9.0 / 5.0 + 32.0;
                format!("{} F", (fahrenheit / 5.0).round() as i64 * 5)
            }
            Units::Metric | Units::Gas => format!("{celsius} C"),
        }
    }

    /// A temperature in these units, exactly: an oven's in gas marks where these are the units.
    pub fn exactly(self, temperature: Temperature) -> String {
        temperature.on(self.scale()).to_string()
    }

    /// A length given in mm: `30 cm`, `11.5 in`; inches to a quarter where they are nearly that, otherwise to a tenth.
    ///
    /// ```
    /// use rangewright_models::units::{Units, length};
    /// for text in ["9 in", "5.5 in", "12.25 in"] {
    ///     assert_eq!(length(text).map(|mm| Units::Customary.length(mm)), Ok(text.to_owned()));
    /// }
    /// assert_eq!(Units::Metric.length(305), "30.5 cm");
    /// ```
    pub fn length(self, mm: i64) -> String {
        format!("{} {}", self.measure(mm), self.short_length())
    }

    /// A weight given in g: `1.2 kg`, `2.6 lb`.
    pub fn weight(self, grams: i64) -> String {
        match self {
            Units::Customary => format!("{} lb", (grams as f64 / 45.359_237).round() / 10.0),
            Units::Metric | Units::Gas => format!("{} kg", grams as f64 / 1000.0),
        }
    }

    /// The number of a length without its unit.
    fn measure(self, mm: i64) -> f64 {
        match self {
            Units::Customary => {
                let inches = mm as f64 / 25.4;
                let quarter = (inches * 4.0).round() / 4.0;
                if (inches - quarter).abs() < 0.03 { quarter } else { (inches * 10.0).round() / 10.0 }
            }
            Units::Metric | Units::Gas => mm as f64 / 10.0,
        }
    }

    fn short_length(self) -> &'static str {
        if self == Units::Customary { "in" } else { "cm" }
    }

    /// The scale of ovens.
    pub fn scale(self) -> Scale {
        match self {
            Units::Metric => Scale::Celsius,
            Units::Customary => Scale::Fahrenheit,
            Units::Gas => Scale::Gas,
        }
    }
}

/// Minutes from `min` to `max`; open if there is no `max`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Interval {
    /// The least.
    pub min: i64,
    /// The most.
    pub max: Option<i64>,
}

/// The outer size of a pan.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PanSize {
    /// Width, depth and height, mm.
    Box([i64; 3]),
    /// Diameter and height, mm. Without a height it stands on the hob only.
    Round(i64, Option<i64>),
}

/// How much is bought, for the whole table or for each portion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amount {
    /// Hundredths of the measure: 1 to 10^11.
    pub hundredths: i64,
    /// What is counted.
    pub measure: Measure,
    /// For each portion: an adult eats one, a child half of one.
    pub each: bool,
}

/// What an amount is counted in.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Measure {
    /// By weight.
    Grams,
    /// By volume.
    Millilitres,
    /// By the piece, with the word for a piece: `bunches`; empty for what is just counted.
    Pieces(String),
}

impl Amount {
    /// Hundredths of the measure for a table, rounded up.
    ///
    /// ```
    /// use rangewright_models::units::amount;
    /// // Ten adults and two children eat eleven portions.
    /// assert_eq!(amount("250 g each").map(|own| own.at_table(12, 2)), Ok(275_000));
    /// assert_eq!(amount("2 bunches").map(|own| own.at_table(12, 2)), Ok(200));
    /// ```
    pub fn at_table(&self, guests: i64, children: i64) -> i64 {
        let halves = guests.saturating_mul(2).saturating_sub(children).max(0);
        if self.each { self.hundredths.saturating_mul(halves).saturating_add(1) / 2 } else { self.hundredths }
    }
}

impl fmt::Display for Interval {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.max {
            Some(max) if max == self.min => write!(f, "{max} min"),
            Some(max) => write!(f, "{} to {max} min", self.min),
            None => write!(f, "{} min or more", self.min),
        }
    }
}

impl PanSize {
    /// The size in words: `40 x 30 x 12 cm`, `11 in across`.
    pub fn said(self, units: Units) -> String {
        let unit = units.short_length();
        match self {
            PanSize::Box(sides) => {
                let [w, d, h] = sides.map(|side| units.measure(side));
                format!("{w} x {d} x {h} {unit}")
            }
            PanSize::Round(across, Some(high)) => {
                format!("{} across, {} high", units.length(across), units.length(high))
            }
            PanSize::Round(across, None) => format!("{} across", units.length(across)),
        }
    }
}

impl fmt::Display for PanSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(Units::Metric))
    }
}

//! Temperatures as they are written: kept exactly, with the scale of whoever wrote them.

use std::fmt;

use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::UnitError;
use super::measure::{DEGREES, sum, unit_of};
use super::number::{Ratio, number};

/// So many parts make a degree Celsius, and five ninths of as many a degree Fahrenheit: hundredths of both are whole numbers.
const PARTS: i128 = 900;
/// Degrees Fahrenheit of gas mark 1, and from one mark to the next. Marks below 1 halve from step to step: 1/2 is one step
/// below 1, 1/4 is two.
///
/// Source: the definition of the scale in an encyclopaedia's article on the gas mark, read in the copy at
/// liquisearch.com/gas_mark (November 2026); its table is what the tests hold, beside an engineer's table for the trade.
const GAS: [i64; 2] = [275, 25];
/// The highest mark on ovens.
const HIGHEST_MARK: i64 = 9;

/// The scale in which a temperature is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Scale {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
    /// Marks of a gas oven: a quarter, a half, 1 to 9.
    Gas,
}

/// A temperature, exactly as it was written.
///
/// ```
/// use rangewright_models::units::degrees;
///
/// let [core, oven, gas] = ["130 F", "62.5 C", "gas 7"].map(|text| degrees(text).unwrap());
/// assert_eq!([core, oven, gas].map(|own| own.to_string()), ["130 F", "62.5 C", "gas 7"]);
/// assert_eq!((core.whole(), gas.whole()), (54, 218));
/// assert!((core.celsius() - 54.44).abs() < 0.01);
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature {
    /// Parts of a degree Celsius.
    parts: i64,
    scale: Scale,
}

impl Temperature {
    /// So many whole degrees Celsius; absurd ones are held at a billion.
    pub const fn of_celsius(degrees: i64) -> Temperature {
        let held = if degrees > 1_000_000_000 {
            1_000_000_000
        } else if degrees < -1_000_000_000 {
            -1_000_000_000
        } else {
            degrees
        };
        Temperature { parts: held * PARTS as i64, scale: Scale::Celsius }
    }

    const fn of_fahrenheit(degrees: i64) -> Temperature {
        Temperature { parts: (degrees - 32) * 500, scale: Scale::Fahrenheit }
    }

    /// Degrees Celsius.
    pub fn celsius(self) -> f64 {
        self.parts as f64 / PARTS as f64
    }

    /// The nearest whole degree Celsius, halves away from zero: what a [`problem`](crate::problem) reckons with.
    pub fn whole(self) -> i64 {
        nearest(self.parts, PARTS as i64)
    }

    /// The scale it was written in.
    pub fn scale(self) -> Scale {
        self.scale
    }

    /// The same heat on another scale.
    pub fn on(self, scale: Scale) -> Temperature {
        Temperature { scale, ..self }
    }

    /// As it was written, in a text of which just this is read again.
    pub(crate) fn written(self) -> String {
        let short = self.to_string();
        if degrees(&short) == Ok(self) {
            return short;
        }
        let exact = self.exact();
        // What was reckoned on the scale of gas marks and is none is said in degrees Celsius.
        if degrees(&exact) == Ok(self) { exact } else { self.on(Scale::Celsius).exact() }
    }

    /// With as many figures as it takes; gas marks as degrees Celsius.
    fn exact(self) -> String {
        let (parts, whole, unit) = match self.scale {
            Scale::Fahrenheit => (i128::from(self.parts) + 32 * 500, 500, "F"),
            Scale::Celsius | Scale::Gas => (i128::from(self.parts), PARTS, "C"),
        };
        // What is finer than a part is cut off towards zero: so much of it stays.
        let fine = parts * 10_000;
        let figures = if self.parts < 0 { fine.div_euclid(whole) } else { -(-fine).div_euclid(whole) };
        let sign = if figures < 0 { "-" } else { "" };
        let text = format!("{sign}{}.{:04}", figures.abs() / 10_000, figures.abs() % 10_000);
        format!("{} {unit}", text.trim_end_matches('0').trim_end_matches('.'))
    }

    /// Degrees Celsius from another one; never negative.
    pub fn apart(self, other: Temperature) -> f64 {
        (self.celsius() - other.celsius()).abs()
    }

    /// The temperatures that a cook would set between two: the two ends, and every 10 C, every 25 F or every gas mark,
    /// as the first end is written, each taken only `every` so many of them.
    pub fn between(low: Temperature, high: Temperature, every: i64) -> Vec<Temperature> {
        let (first, step) = match low.scale {
            Scale::Celsius => (Temperature::of_celsius(0).parts, 10 * PARTS as i64),
            Scale::Fahrenheit => (Temperature::of_fahrenheit(0).parts, 25 * 500),
            Scale::Gas => (Temperature::of_fahrenheit(GAS[0]).parts, GAS[1] * 500),
        };
        let step = step * every.max(1);
        let mut next = first + (low.parts - first).div_euclid(step) * step;
        let mut all = vec![low];
        while next < high.parts && all.len() < 100 {
            if next > low.parts {
                all.push(Temperature { parts: next, scale: low.scale });
            }
            next += step;
        }
        if high.parts > low.parts {
            all.push(high);
        }
        all
    }

    /// The mark of a gas oven with this heat, to a quarter of the way between two: quarters of a mark, of 1 and above.
    fn mark(self) -> String {
        let steps = (self.parts - Temperature::of_fahrenheit(GAS[0]).parts) as f64 / (GAS[1] * 500) as f64;
        let near = |wanted: f64| (steps - wanted).abs() < 0.2;
        match steps.round() as i64 {
            -2 if near(-2.0) => "gas 1/4".to_owned(),
            -1 if near(-1.0) => "gas 1/2".to_owned(),
            mark if (0..HIGHEST_MARK).contains(&mark) && near(mark as f64) => format!("gas {}", mark + 1),
            _ if (0.0..(HIGHEST_MARK - 1) as f64).contains(&steps) => {
                let below = steps.floor() as i64 + 1;
                format!("between gas {below} and {}", below + 1)
            }
            _ => plain(self.parts, PARTS as i64, "C"),
        }
    }
}

impl fmt::Display for Temperature {
    /// As it was written: `62.5 C`, `325 F`, `gas 1/2`. At the most one figure after the point.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&match self.scale {
            Scale::Celsius => plain(self.parts, PARTS as i64, "C"),
            Scale::Fahrenheit => plain(self.parts + 32 * 500, 500, "F"),
            Scale::Gas => self.mark(),
        })
    }
}

/// As text: `"62.5 C"`.
impl Serialize for Temperature {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.written())
    }
}

impl<'de> Deserialize<'de> for Temperature {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Temperature, D::Error> {
        degrees(&String::deserialize(deserializer)?).map_err(D::Error::custom)
    }
}

/// A temperature: `175 C`, `62.5 C`, `350 F`, `gas 7`.
///
/// # Errors
/// If it is none, or has no unit. What is finer than a hundredth of a degree is cut off.
pub fn degrees(text: &str) -> Result<Temperature, UnitError> {
    let text = text.trim();
    if let Some(mark) = gas(text) {
        return mark;
    }
    let degrees = sum(text, DEGREES)?;
    let (scale, ratio) = match unit_of(text).to_lowercase().contains('f') {
        // `sum` has made degrees Celsius apart of them.
        true => (Scale::Fahrenheit, degrees.plus(Ratio::new(-160, 9))?),
        false => (Scale::Celsius, degrees),
    };
    // What is finer than a hundredth is cut off, so that it is never rounded twice.
    let parts = ratio.times(Ratio::new(PARTS, 1))?.towards_zero();
    Ok(Temperature { parts: i64::try_from(parts).map_err(|_| UnitError::Absurd)?, scale })
}

/// Two temperatures, the lower first: `150 to 160 C`, `gas 3 to 5`; a single one is both.
///
/// # Errors
/// As [`degrees`]; and if the first is higher than the second.
pub fn degree_range(text: &str) -> Result<[Temperature; 2], UnitError> {
    let text = text.trim();
    let split = text.split_once(" to ").or_else(|| text.split_once('–')).or_else(|| text.split_once(" - "));
    let Some((low, high)) = split else { return degrees(text).map(|own| [own; 2]) };
    let ends = match gas(low.trim()) {
        Some(low) if gas(high.trim()).is_none() && unit_of(high).is_empty() => {
            [low?, degrees(&format!("gas {}", high.trim()))?]
        }
        Some(low) => [low?, degrees(high)?],
        None if unit_of(low).is_empty() => [degrees(&format!("{} {}", low.trim(), unit_of(high)))?, degrees(high)?],
        None => [degrees(low)?, degrees(high)?],
    };
    if ends[0].parts <= ends[1].parts { Ok(ends) } else { Err(UnitError::UpsideDown) }
}

/// A gas mark, if the text begins like one.
fn gas(text: &str) -> Option<Result<Temperature, UnitError>> {
    let lower = text.to_lowercase();
    let rest = lower.strip_prefix("gas")?.trim_start();
    let mark = rest.strip_prefix("mark").unwrap_or(rest).trim();
    let wrong = || UnitError::NotAQuantity { found: text.to_owned() };
    let read = || {
        let (ratio, after) = number(&mark.replace('¼', "1/4").replace('½', "1/2")).map(|(r, a)| (r, a.to_owned()))?;
        if !after.trim().is_empty() {
            return Err(wrong());
        }
        let steps = match ratio.whole() {
            Some(mark) if (1..=i128::from(HIGHEST_MARK)).contains(&mark) => mark as i64 - 1,
            None if ratio == Ratio::new(1, 2) => -1,
            None if ratio == Ratio::new(1, 4) => -2,
            _ => return Err(UnitError::Absurd),
        };
        Ok(Temperature { scale: Scale::Gas, ..Temperature::of_fahrenheit(GAS[0] + steps * GAS[1]) })
    };
    Some(read())
}

/// Parts of a degree as a number with at the most one figure after the point.
fn plain(parts: i64, degree: i64, unit: &str) -> String {
    let tenths = nearest(parts * 10, degree);
    let (sign, tenths) = (if tenths < 0 { "-" } else { "" }, tenths.abs());
    match (tenths / 10, tenths % 10) {
        (whole, 0) => format!("{sign}{whole} {unit}"),
        (whole, tenth) => format!("{sign}{whole}.{tenth} {unit}"),
    }
}

/// The nearest whole number of `of`, halves away from zero.
fn nearest(parts: i64, of: i64) -> i64 {
    let (whole, rest) = (parts.abs() / of, parts.abs() % of);
    parts.signum() * (whole + i64::from(rest >= of - rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The Fahrenheit column of a table for the trade (engineeredbydesign.co.uk, "Oven temperatures", read November 2026),
    /// which is also that of the article named above.
    #[test]
    fn gas_marks_are_those_of_two_tables() {
        let table = [225, 250, 275, 300, 325, 350, 375, 400, 425, 450, 475];
        let marks = ["1/4", "1/2", "1", "2", "3", "4", "5", "6", "7", "8", "9"];
        for (mark, fahrenheit) in marks.iter().zip(table) {
            let own = degrees(&format!("gas {mark}")).unwrap();
            assert_eq!(own.on(Scale::Fahrenheit).to_string(), format!("{fahrenheit} F"), "gas {mark}");
            assert_eq!(own.to_string(), format!("gas {mark}"));
        }
        for (text, said) in [("Gas Mark 7", "gas 7"), ("gas½", "gas 1/2")] {
            assert_eq!(degrees(text).map(|own| own.to_string()), Ok(said.to_owned()));
        }
        for wrong in ["gas", "gas 10", "gas 0", "gas 3.5", "gas 1/3", "gas 4 F"] {
            assert!(degrees(wrong).is_err(), "{wrong}");
        }
    }

    #[test]
    fn whole_tenths_come_back_as_written() {
        for tenths in -400..6000 {
            for unit in ["C", "F"] {
                let text = plain(tenths, 10, unit);
                assert_eq!(degrees(&text).map(|own| own.to_string()), Ok(text.clone()), "{text}");
            }
        }
    }

    #[test]
    fn between_two_stand_those_a_cook_would_set() {
        let between = |text: &str, every| {
            let [low, high] = degree_range(text).unwrap();
            Temperature::between(low, high, every).iter().map(ToString::to_string).collect::<Vec<_>>().join(", ")
        };
        assert_eq!(between("145 to 180 C", 1), "145 C, 150 C, 160 C, 170 C, 180 C");
        assert_eq!(between("320 to 400 F", 1), "320 F, 325 F, 350 F, 375 F, 400 F");
        assert_eq!(between("gas 3 to 5", 1), "gas 3, gas 4, gas 5");
        assert_eq!(between("gas 1/2 to gas 2", 1), "gas 1/2, gas 1, gas 2");
        assert_eq!(between("300 F", 1), "300 F");
        assert_eq!(between("100 to 200 C", 4), "100 C, 120 C, 160 C, 200 C");
        assert!(degree_range("gas 5 to 3").is_err());
        // Each end in its own unit, where both have one.
        assert_eq!(between("gas 4 to 375 F", 9), "gas 4, 375 F");
    }

    #[test]
    fn a_heat_between_marks_is_said_to_be_so() {
        let on_gas = |text: &str| degrees(text).unwrap().on(Scale::Gas).to_string();
        assert_eq!(on_gas("425 F"), "gas 7");
        assert_eq!(on_gas("220 C"), "gas 7");
        assert_eq!(on_gas("211 C"), "between gas 6 and 7");
        assert_eq!(on_gas("66 C"), "66 C");
    }
}

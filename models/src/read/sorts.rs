//! The sorts of quantities in a menu: how each is read, what is legal, and how to write it.

use crate::feast::Clock;
use crate::kitchen::PanSize;
use crate::menu::{Amount, Interval};
use crate::problem::legal;
use crate::units::{self, Temperature, UnitError};

pub(super) struct Sort<T> {
    pub(super) parse: fn(&str) -> Result<T, UnitError>,
    pub(super) legal: fn(&T) -> bool,
    pub(super) range: &'static str,
    pub(super) example: &'static str,
}

pub(super) const MINUTES: Sort<i64> = Sort {
    parse: units::minutes,
    legal: |n| legal::MINUTES.contains(n),
    range: "from 0 min to 30 days",
    example: "15 min",
};
pub(super) const SOME_MINUTES: Sort<i64> = Sort {
    parse: units::minutes,
    legal: |n| legal::MINUTES.contains(n) && *n > 0,
    range: "from 1 min to 30 days",
    example: "15 min",
};
pub(super) const TAKES: Sort<Interval> = Sort {
    parse: units::interval,
    legal: |i| i.min >= 1 && legal::MINUTES.contains(&i.min) && i.max.is_none_or(|max| legal::MINUTES.contains(&max)),
    range: "from 1 min to 30 days",
    example: "1 h 30 min\" or \"20 to 40 min",
};
pub(super) const BETWEEN: Sort<[i64; 2]> = Sort {
    parse: |text| match units::interval(text)? {
        Interval { min, max: Some(max) } => Ok([min, max]),
        Interval { max: None, .. } => Err(UnitError::NotAQuantity { found: text.trim().to_owned() }),
    },
    legal: |ends| ends[0] >= 1 && ends.iter().all(|n| legal::MINUTES.contains(n)),
    range: "from 1 min to 30 days",
    example: "40 to 55 min",
};
pub(super) const GAP: Sort<Interval> = Sort {
    parse: units::interval,
    legal: |i| legal::GAP.contains(&i.min) && i.max.is_none_or(|max| legal::GAP.contains(&max)),
    range: "from -30 days to 30 days",
    example: "0 min\", \"5 to 20 min\", \"up to 10 min\" or \"5 min or more",
};
pub(super) const FOLLOWS: Sort<Interval> = Sort {
    parse: units::interval,
    legal: |i| i.min >= 0 && (GAP.legal)(i),
    range: "from 0 min to 30 days",
    example: "20 to 60 min\" or \"20 min or more",
};
pub(super) const AMOUNT: Sort<Amount> = Sort {
    parse: units::amount,
    legal: |own| (1..=100_000_000_000).contains(&own.hundredths),
    range: "from a hundredth to 1000 t",
    example: "250 g each\", \"1.5 l\" or \"2 bunches",
};
pub(super) const LENGTH_OR_NONE: Sort<i64> = Sort {
    parse: units::length,
    legal: |n| legal::LENGTH_OR_NONE.contains(n),
    range: "from 0 to 5 m",
    example: "3 cm",
};
pub(super) const SOME_LENGTH: Sort<i64> =
    Sort { parse: units::length, legal: |n| legal::LENGTH.contains(n), range: "from 1 mm to 5 m", example: "9 cm" };
pub(super) const LENGTHS: Sort<[i64; 2]> = Sort {
    parse: units::lengths,
    legal: |ends| ends.iter().all(|n| legal::LENGTH.contains(n)),
    range: "from 1 mm to 5 m",
    example: "16 to 30 cm",
};
pub(super) const AREA: Sort<[i64; 2]> = Sort {
    parse: |text| exact(text, units::size(text)?),
    legal: |sides| sides.iter().all(|n| legal::LENGTH.contains(n)),
    range: "from 1 mm to 5 m a side",
    example: "60 x 40 cm",
};
pub(super) const INSIDE: Sort<[i64; 3]> = Sort {
    parse: |text| exact(text, units::size(text)?),
    legal: |sides| sides.iter().all(|n| legal::LENGTH.contains(n)),
    range: "from 1 mm to 5 m a side",
    example: "46 x 40 x 36 cm",
};
pub(super) const PAN: Sort<PanSize> = Sort {
    parse: units::pan,
    legal: |size| match size {
        PanSize::Box(sides) => sides.iter().all(|n| legal::LENGTH.contains(n)),
        PanSize::Round(across, high) => {
            legal::LENGTH.contains(across) && high.is_none_or(|h| legal::LENGTH.contains(&h))
        }
    },
    range: "from 1 mm to 5 m",
    example: "40 x 30 x 12 cm\", round \"28 x 14 cm\", or like one of the kitchen's pans, \"roasting tin",
};
pub(super) const WEIGHT: Sort<i64> = Sort {
    parse: units::weight,
    legal: |n| legal::WEIGHT.contains(n),
    range: "from 1 g to 1,000 kg",
    example: "2.4 kg",
};
pub(super) const DEGREES: Sort<Temperature> = Sort {
    parse: units::degrees,
    legal: |own| legal::DEGREES.contains(&own.whole()),
    range: "from -40 to 600 C",
    example: "180 C\", \"350 F\" or \"gas 4",
};
pub(super) const DEGREE_RANGE: Sort<[Temperature; 2]> = Sort {
    parse: units::degree_range,
    legal: |ends| ends.iter().all(|own| legal::DEGREES.contains(&own.whole())),
    range: "from -40 to 600 C",
    example: "140 to 180 C\", \"300 to 350 F\" or \"gas 3 to 5",
};
pub(super) const TEMPERATURE: Sort<i64> = Sort {
    parse: units::temperature,
    legal: |n| legal::DEGREES.contains(n),
    range: "from -40 to 600 C",
    example: "20 C",
};
pub(super) const TEMPERATURES: Sort<[i64; 2]> = Sort {
    parse: units::temperatures,
    legal: |ends| ends.iter().all(|n| legal::DEGREES.contains(n)),
    range: "from -40 to 600 C",
    example: "50 to 250 C",
};
pub(super) const RATE_OF_HEAT: Sort<i64> = Sort {
    parse: units::rate_of_heat,
    legal: |n| legal::RATE_OF_HEAT.contains(n),
    range: "from 1 to 10,000 C in 10 min",
    example: "110 C in 10 min",
};
pub(super) const POWER: Sort<i64> =
    Sort { parse: units::power, legal: |n| legal::POOL.contains(n), range: "from 0 to 1,000,000 W", example: "2 kW" };
pub(super) const CLOCK: Sort<Clock> = Sort {
    parse: units::clock,
    legal: |_| true,
    range: "within 30 days of the feast",
    example: "18:40\", \"6:40 pm\" or \"day before 15:00",
};
pub(super) const STRETCH: Sort<[Clock; 2]> = Sort {
    parse: units::stretch,
    legal: |_| true,
    range: "within 30 days of the feast",
    example: "13:00 to 21:30\" or \"day before 15:00 to 18:00",
};

fn exact<const N: usize>(text: &str, sides: Vec<i64>) -> Result<[i64; N], UnitError> {
    sides.try_into().map_err(|_| UnitError::NotAQuantity { found: text.trim().to_owned() })
}

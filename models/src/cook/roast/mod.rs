//! A roast: from cut, thickness, oven and target to minutes, pull, rest and peak, always with a range.
//!
//! The model is conduction in a round bar, slab, ball or block whose surface takes up heat by convection and radiation and
//! loses it by evaporation ([`heat`](crate::cook::heat)). Its constants are fitted to published rows
//! ([`fitted`](crate::cook::fitted)); what it makes of each of them stands in the tables below. Altitude is left out: water
//! boils lower on a mountain, the surface stays cooler, and the minutes are longer than stated.
//!
//! ```
//! use rangewright_models::cook::{Calibration, Cut, Meat, roast};
//! use rangewright_models::problem::Heat;
//!
//! let roast = roast::Roast { thickness_mm: Some(95.0), ..roast::Roast::of(Meat::Pork, Cut::Loin, 2_000.0, 65.0) };
//! let oven = roast::Oven::new(Heat::Static, 140, 180);
//! let forecast = roast::forecast(&roast, &oven)?;
//! assert_eq!(forecast.ways.len(), 5);
//! let way = &forecast.ways[2];
//! assert!(way.early_min <= way.minutes && way.minutes <= way.late_min);
//! assert!(way.pull_c < 65.0);
//! # Ok::<(), roast::RoastFault>(())
//! ```
#![doc = include_str!("../ROASTING.md")]

mod cooking;
mod legal;
mod pace;
mod plan;
mod probe;
mod roasting;
mod size;
mod state;
mod together;

use serde::{Deserialize, Serialize};

use super::calibrate::Calibration;
use super::carry_over::Cover;
use super::cut::{Cut, Meat, Solid};
use super::fault::Fault;
use super::safety::{Caution, Handling, Region};
use crate::problem::Heat;

pub(crate) use pace::{MOVED, Pace};
pub use plan::{forecast, forecast_with, minutes_by, minutes_to, solid};
pub use probe::{Reforecast, reforecast};
pub use roasting::Roasting;
pub use state::{Reading, Spell, State, state};
pub use together::{Together, Wanted, problem};

/// A roast as a cook describes it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Roast {
    /// Whose flesh it is.
    pub meat: Meat,
    /// The cut, or a plain shape.
    pub cut: Cut,
    /// Weight as bought, g: 100 to 20,000. Needed where thickness and length are not both known.
    #[serde(default)]
    pub weight_g: Option<f64>,
    /// Thickness at the thickest place, mm: 15 to 400. It governs the minutes; without it it is guessed from the weight.
    #[serde(default)]
    pub thickness_mm: Option<f64>,
    /// Breadth of a block, mm: 15 to 600.
    #[serde(default)]
    pub breadth_mm: Option<f64>,
    /// Length, mm: 15 to 1,200.
    #[serde(default)]
    pub length_mm: Option<f64>,
    /// With its bones.
    #[serde(default)]
    pub bone: bool,
    /// Tied to an even thickness.
    #[serde(default)]
    pub tied: bool,
    /// With a stuffing inside.
    #[serde(default)]
    pub stuffed: bool,
    /// What was done to the meat before.
    #[serde(default)]
    pub handling: Handling,
    /// Its temperature when it goes in, degrees C: 0 to 40. Below, it is frozen and must thaw first.
    #[serde(default = "fridge_cold")]
    pub start_c: f64,
    /// The highest centre temperature wanted during the rest, degrees C: 40 to 90. Where carry-over does not count for
    /// safety (poultry, minced, tenderised, stuffed) it is reached in the oven.
    pub target_c: f64,
    /// Minutes of rest after the last heat: 0 to 240.
    #[serde(default = "half_an_hour")]
    pub rest_min: f64,
    /// What it rests under.
    #[serde(default)]
    pub cover: Cover,
    /// It rests on a cold tray or board, and not in its hot tin.
    #[serde(default)]
    pub cold_tray: bool,
    /// A hot stage before or after.
    #[serde(default)]
    pub finish: Finish,
}

impl Roast {
    /// A roast known by its weight, g, from a refrigerator at 5 C, to a centre of `target_c`, rested half an hour
    /// loosely covered in its tin.
    pub fn of(meat: Meat, cut: Cut, weight_g: f64, target_c: f64) -> Self {
        Self {
            meat,
            cut,
            weight_g: Some(weight_g),
            thickness_mm: None,
            breadth_mm: None,
            length_mm: None,
            bone: false,
            tied: false,
            stuffed: false,
            handling: Handling::Whole,
            start_c: fridge_cold(),
            target_c,
            rest_min: half_an_hour(),
            cover: Cover::default(),
            cold_tray: false,
            finish: Finish::None,
        }
    }
}

/// A hot stage beside the long one.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case", deny_unknown_fields)]
pub enum Finish {
    /// One temperature throughout.
    #[default]
    None,
    /// Hot at first, then the oven is turned down with the roast in it.
    HotFirst {
        /// Degrees C: 150 to 280.
        at_c: f64,
        /// Minutes at it: 3 to 60.
        minutes: f64,
    },
    /// Low until nearly done, then hot.
    HotLast {
        /// Degrees C: 150 to 280.
        at_c: f64,
        /// Minutes at it: 3 to 60; the rise of the oven comes on top.
        minutes: f64,
        /// Minutes of rest out of the oven in between, 0 to 120; with 0 the roast stays in while the oven rises.
        #[serde(default)]
        gap_min: f64,
    },
}

/// An oven with one kind of heat, and the temperatures a cook accepts for the long stage.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Oven {
    /// Fan, static or spit; there is no model for steam and grill.
    pub heat: Heat,
    /// Lowest temperature accepted, degrees C: 80 to 260.
    pub lo_c: i64,
    /// Highest temperature accepted, degrees C: 80 to 260, at most 110 above the lowest.
    pub hi_c: i64,
    /// How fast it heats, degrees per ten minutes: 5 to 1,000.
    #[serde(default = "usual_rise")]
    pub rise: f64,
    /// How fast it cools, degrees per ten minutes: 5 to 1,000.
    #[serde(default = "usual_fall")]
    pub fall: f64,
    /// Its temperature when the roast goes in, degrees C, if it is not heated before: 0 to 300.
    #[serde(default)]
    pub start_c: Option<f64>,
}

impl Oven {
    /// An oven that heats 100 and cools 30 degrees in ten minutes (common practice, no source), heated beforehand.
    pub fn new(heat: Heat, lo_c: i64, hi_c: i64) -> Self {
        Self { heat, lo_c, hi_c, rise: usual_rise(), fall: usual_fall(), start_c: None }
    }
}

fn fridge_cold() -> f64 {
    5.0
}

fn half_an_hour() -> f64 {
    30.0
}

fn usual_rise() -> f64 {
    100.0
}

fn usual_fall() -> f64 {
    30.0
}

/// What the model says of a roast: one [`Way`] for each oven temperature.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Forecast {
    /// The body that stands for the roast.
    pub solid: Solid,
    /// Whether its thickness was guessed from the weight.
    pub guessed: bool,
    /// By oven temperature, rising.
    pub ways: Vec<Way>,
    /// Oven temperatures at which it does not work, and why.
    pub skipped: Vec<Skipped>,
    /// What the estimate rests on.
    pub calibration: Calibration,
    /// What holds for every way.
    pub cautions: Vec<Caution>,
}

/// One oven temperature, and what comes of it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Way {
    /// What the dial says for the long stage, degrees C.
    pub oven_c: i64,
    /// Air temperatures for which the minutes stand, degrees C.
    pub window_c: [i64; 2],
    /// Every stage in the oven, in order.
    pub stages: Vec<Stage>,
    /// Minutes from going in to the end of the long stage: the estimate, whole minutes.
    pub minutes: i64,
    /// As early as that may be, nine times in ten.
    pub early_min: i64,
    /// As late as that may be, nine times in ten.
    pub late_min: i64,
    /// Minutes to plan ahead of the estimate, so that a late roast is still in time; the rest takes up an early one.
    pub margin_min: i64,
    /// Centre at the end of the long stage, degrees C: turn the oven up, or take the roast out.
    pub long_end_c: f64,
    /// Centre when the roast leaves the oven for its rest, degrees C.
    pub pull_c: f64,
    /// Highest centre during the rest, degrees C.
    pub peak_c: f64,
    /// The band of that peak, degrees C.
    pub peak_band_c: [f64; 2],
    /// Minutes from the pull to the peak, as far as the rest lasts.
    pub peak_after_min: f64,
    /// When to probe, and what to expect.
    pub probes: Vec<Probe>,
    /// The course of the core and of the surface, rest included.
    pub course: Vec<Point>,
    /// Water evaporated in the oven, as a share of the weight (the model's; drip comes on top).
    pub evaporated: f64,
    /// Decimal reductions of Salmonella credited to the core by the beef table, with the least carry-over of the band; `None` where the table does not go.
    pub credited_logs: Option<f64>,
    /// What holds for this way.
    pub cautions: Vec<Caution>,
}

impl Way {
    /// Minutes that a centimetre of thickness is worth: `t ~ thickness^1.7`, as the heat model has it of bars and blocks.
    pub fn a_centimetre_min(&self, solid: &Solid) -> i64 {
        (self.minutes as f64 * ((1.0 + 10.0 / solid.thickness_mm()).powf(1.7) - 1.0)).round() as i64
    }
}

/// One stage in the oven.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Stage {
    /// What the dial says, degrees C.
    pub oven_c: i64,
    /// Minutes, the rise or fall of the oven included.
    pub minutes: i64,
    /// Whether this is the long stage, whose minutes are uncertain.
    pub long: bool,
    /// Minutes out of the oven before it; `None` if the roast stays in.
    pub after_gap_min: Option<i64>,
}

/// A check with the thermometer.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Probe {
    /// Minutes after the roast went in.
    pub minute: i64,
    /// The centre expected, degrees C.
    pub core_c: f64,
    /// The centre of a late and of an early roast, degrees C.
    pub band_c: [f64; 2],
}

/// One moment.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// Minutes after the roast went in.
    pub minute: f64,
    /// Centre, degrees C; in the rest with the planned carry-over.
    pub core_c: f64,
    /// Middle of the surface, degrees C.
    pub surface_c: f64,
}

/// An oven temperature at which it does not work.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Skipped {
    /// Degrees C.
    pub oven_c: i64,
    /// Why not.
    pub why: Unreachable,
}

/// Why a roast does not come out at an oven temperature.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Unreachable {
    /// The centre would not get there within a day.
    TooCool {
        /// How far it gets, degrees C.
        highest_c: f64,
    },
    /// The hot stage alone takes the centre past the target.
    TooHot,
    /// The long stage is no cooler than the hot one.
    NoCooler,
}

impl std::fmt::Display for Unreachable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Unreachable::TooCool { highest_c } => {
                write!(f, "the centre gets no further than {highest_c:.0} C: use a hotter oven or a lower target")
            }
            Unreachable::TooHot => f.write_str("the hot stage alone takes the centre past the target: shorten it"),
            Unreachable::NoCooler => f.write_str("the long stage is no cooler than the hot one"),
        }
    }
}

/// Why there is no forecast.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "kind", content = "detail", rename_all = "snake_case")]
pub enum RoastFault {
    /// Something is wrong with what was given; every fault is named.
    Input(Vec<Fault>),
    /// It works at none of the oven temperatures.
    NoWay(Vec<Skipped>),
}

impl std::fmt::Display for RoastFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let lines: Vec<String> = match self {
            RoastFault::Input(faults) => faults.iter().map(ToString::to_string).collect(),
            RoastFault::NoWay(skipped) => skipped.iter().map(|s| format!("at {} C {}", s.oven_c, s.why)).collect(),
        };
        f.write_str(&lines.join("; "))
    }
}

impl std::error::Error for RoastFault {}

/// Region of the cautions when none is named.
const REGION: Region = Region::Us;

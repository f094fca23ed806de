//! A roast at any minute, whatever it has been through: another oven, an open door, an oven that went out.

use serde::{Deserialize, Serialize};

use super::cooking::Cooking;
use super::legal::check;
use super::pace::{MOVED, PROBE_ERROR, Pace};
use super::plan::core_at;
use super::{Oven, Roast, RoastFault};
use crate::cook::air::{KITCHEN_C, about_a_roast, convection, counter};
use crate::cook::calibrate::Calibration;
use crate::cook::cut::{Cut, Solid, composition};
use crate::cook::fault::{Fault, Legal};
use crate::cook::fitted::Fitted;
use crate::problem::Heat;

/// No roast is followed further than this, minutes.
const DAY: f64 = 1_440.0;
/// How near a pace is looked for, in logarithms, and how many times the span is halved.
const SPAN: f64 = 0.7;
const HALVINGS: usize = 7;

/// Where a roast was for a while.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spell {
    /// Minutes: 0 to 1,440.
    pub minutes: f64,
    /// The air, degrees C: 0 to 300.
    pub air_c: f64,
    /// The kind of heat; `None` out of the oven, on the counter, where the air is the kitchen's.
    pub heat: Option<Heat>,
    /// Whether the air is so at once (another oven, an open door), and does not get there by the oven's rise and fall (a dial
    /// that was turned, an oven that went out).
    pub at_once: bool,
}

impl Spell {
    /// In an oven that holds so many degrees C.
    pub fn oven(minutes: f64, heat: Heat, air_c: f64) -> Self {
        Self { minutes, air_c, heat: Some(heat), at_once: true }
    }

    /// In an oven that went out, or has no power: its air cools.
    pub fn went_out(minutes: f64, heat: Heat) -> Self {
        Self::turned(minutes, heat, KITCHEN_C)
    }

    /// In the same oven, its dial turned to so many degrees C.
    pub fn turned(minutes: f64, heat: Heat, dial_c: f64) -> Self {
        Self { at_once: false, ..Self::oven(minutes, heat, dial_c) }
    }

    /// Out of the oven.
    pub fn counter(minutes: f64) -> Self {
        Self { minutes, air_c: KITCHEN_C, heat: None, at_once: true }
    }
}

/// What the thermometer in the middle said.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// Minutes after the roast went in.
    pub minute: f64,
    /// Degrees C.
    pub core_c: f64,
}

/// A roast now, and until it comes out.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct State {
    /// Minutes after it went in.
    pub minute: f64,
    /// The centre now, degrees C.
    pub core_c: f64,
    /// Least and greatest centre now, nine times in ten.
    pub band_c: [f64; 2],
    /// Real minutes over computed minutes of this roast, as it looks now.
    pub factor: f64,
    /// Minutes from now to the pull.
    pub remaining_min: i64,
    /// As early as that may be, nine times in ten.
    pub early_min: i64,
    /// As late as that may be, nine times in ten.
    pub late_min: i64,
}

/// The state of a roast after its `history`, and how long it takes to a centre of `pull_c` if it then stays `then` (whose
/// minutes do not count). `oven` gives the rise and fall of the air and, in `start_c`, the air it was put into.
///
/// ```
/// use rangewright_models::cook::roast::{Oven, Reading, Roast, Spell, state};
/// use rangewright_models::cook::{Calibration, Cut, Meat};
/// use rangewright_models::problem::Heat;
///
/// let roast = Roast::of(Meat::Pork, Cut::Loin, 2_000.0, 65.0);
/// let (oven, known) = (Oven::new(Heat::Static, 150, 150), Calibration::default());
/// let roasting = Spell::oven(60.0, Heat::Static, 150.0);
/// let steady = state(&roast, &oven, &[roasting], &[], roasting, 60.0, &known)?;
/// // The same hour, and then a quarter of an hour without power.
/// let dark = [roasting, Spell::went_out(15.0, Heat::Static)];
/// let late = state(&roast, &oven, &dark, &[], Spell::turned(0.0, Heat::Static, 150.0), 60.0, &known)?;
/// assert!(late.remaining_min + 15 > steady.remaining_min);
/// let read = [Reading { minute: 60.0, core_c: steady.core_c - 6.0 }];
/// assert!(state(&roast, &oven, &[roasting], &read, roasting, 60.0, &known)?.remaining_min > steady.remaining_min);
/// # Ok::<(), rangewright_models::cook::roast::RoastFault>(())
/// ```
///
/// # Errors
/// Everything that is wrong with the input, a kind of heat without a model, or a pull that is not reached within a day.
pub fn state(
    roast: &Roast,
    oven: &Oven,
    history: &[Spell],
    readings: &[Reading],
    then: Spell,
    pull_c: f64,
    calibration: &Calibration,
) -> Result<State, RoastFault> {
    let mut faults = Vec::new();
    calibration.faults(&mut faults);
    Legal::new("pull_c", 30.0, 90.0, "C").check(pull_c, &mut faults);
    for spell in history.iter().chain([&then]) {
        spell.faults(&mut faults);
    }
    for reading in readings {
        Legal::new("minute", 0.0, DAY, "min").check(reading.minute, &mut faults);
        Legal::new("core_c", 0.0, 100.0, "C").check(reading.core_c, &mut faults);
    }
    let (solid, _) = check(roast, oven, &Fitted::FOUND, faults)?;
    let past = Past { roast, oven, solid, history };
    let minute: f64 = history.iter().map(|spell| spell.minutes).sum();
    let mut pace = calibration.pace(roast);
    let (mut off, mut read) = (0.0, false);
    for reading in readings.iter().filter(|reading| reading.core_c >= roast.start_c + MOVED) {
        pace = past.weighed(pace, reading);
        off = reading.core_c - past.core_at(pace.mean, reading.minute);
        read = true;
    }
    let core_c = past.core_at(pace.mean, minute) + off;
    let band = pace.range().map(|factor| past.core_at(factor.ln(), minute) + off);
    let mut cooking = past.cooked(pace.mean);
    let (from, before) = (cooking.minute, cooking.core() + off);
    while cooking.core() + off < pull_c {
        if cooking.minute - from > DAY {
            let why = format!("the centre does not get to {pull_c:.0} C within a day from here: use a hotter oven");
            return Err(RoastFault::Input(vec![Fault::Unsuitable { field: "pull_c", why }]));
        }
        let step = Spell { minutes: cooking.step_minutes(), ..then };
        past.spell(&mut cooking, &step, 1.0);
    }
    let computed = cooking.minute - from;
    let slope = (cooking.core() + off - before) / computed.max(1.0);
    let [early, likely, late] = if computed == 0.0 {
        [0.0; 3]
    } else if read {
        pace.left(computed, slope)
    } else {
        let likely = computed * pace.factor();
        let [least, most] = pace.range().map(|factor| (from + computed) * factor - minute);
        [least.clamp(0.0, likely), likely, most.max(likely)]
    };
    Ok(State {
        minute,
        core_c,
        band_c: [band[1].min(core_c), band[0].max(core_c)],
        factor: pace.factor(),
        remaining_min: likely.round() as i64,
        early_min: early.floor() as i64,
        late_min: late.ceil() as i64,
    })
}

impl Spell {
    fn faults(&self, faults: &mut Vec<Fault>) {
        Legal::new("minutes", 0.0, DAY, "min").check(self.minutes, faults);
        Legal::new("air_c", 0.0, 300.0, "C").check(self.air_c, faults);
        if self.heat.is_some_and(|heat| convection(heat).is_none()) {
            let why = "there is no model for steam and grill: use fan, static or spit".to_owned();
            faults.push(Fault::Unsuitable { field: "heat", why });
        }
    }
}

/// A roast and what it has been through.
struct Past<'a> {
    roast: &'a Roast,
    oven: &'a Oven,
    solid: Solid,
    history: &'a [Spell],
}

impl Past<'_> {
    /// The roast after its history, at a pace given as the logarithm of real over computed minutes.
    fn cooked(&self, log_pace: f64) -> Cooking {
        let first = self.history.first().map_or(150.0, |spell| spell.air_c);
        let food = composition(self.roast.meat, self.roast.cut);
        let air = self.oven.start_c.unwrap_or(first);
        let convection = self.about(self.oven.heat).unwrap_or_default();
        let start = self.roast.start_c;
        let mut cooking = Cooking::new(self.solid, food, start, (convection, &Fitted::FOUND), self.oven, air);
        for spell in self.history {
            self.spell(&mut cooking, spell, log_pace.exp());
        }
        cooking
    }

    /// Convection about it, its tin included, W/m2K.
    fn about(&self, heat: Heat) -> Option<f64> {
        let tray = if self.roast.cut == Cut::Slab { Fitted::FOUND.tray } else { 0.0 };
        Some(about_a_roast(heat, self.solid.thickness_mm(), &Fitted::FOUND)? + tray)
    }

    /// One more spell; its minutes are real ones, `factor` times the computed ones.
    fn spell(&self, cooking: &mut Cooking, spell: &Spell, factor: f64) {
        let computed = spell.minutes / factor;
        match spell.heat.and_then(|heat| self.about(heat)) {
            Some(convection) => {
                cooking.convection = convection;
                if spell.at_once && !(cooking.minute == 0.0 && self.oven.start_c.is_some()) {
                    cooking.air = spell.air_c;
                }
                cooking.in_oven(spell.air_c, computed);
            }
            None => {
                cooking.rest(computed, counter(self.roast.cover, self.roast.cold_tray));
            }
        }
    }

    /// The core at a real minute.
    fn core_at(&self, log_pace: f64, minute: f64) -> f64 {
        core_at(&self.cooked(log_pace).course, minute / log_pace.exp())
    }

    /// The pace after a reading: that at which the model has the core where it was read, as far as it is to be believed.
    fn weighed(&self, pace: Pace, reading: &Reading) -> Pace {
        let (mut fast, mut slow) = (-SPAN, SPAN);
        for _ in 0..HALVINGS {
            let middle = (fast + slow) / 2.0;
            if self.core_at(middle, reading.minute) > reading.core_c {
                fast = middle;
            } else {
                slow = middle;
            }
        }
        let found = (fast + slow) / 2.0;
        // How many degrees a change of pace is worth here.
        let worth = (self.core_at(found - 0.1, reading.minute) - self.core_at(found + 0.1, reading.minute)) / 0.2;
        pace.seen(found, PROBE_ERROR / worth.max(0.5))
    }
}

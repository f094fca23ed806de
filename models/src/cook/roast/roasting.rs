//! A roast of a menu, as it is followed on the day.

use serde::{Deserialize, Serialize};

use super::{Finish, Oven, REGION, Roast, Spell, forecast_with, minutes_to};
use crate::cook::calibrate::Calibration;
use crate::cook::cut::{Cut, Meat};
use crate::problem::Heat;

/// A bar that stands for a roast of which only the minutes are known, mm: as thick as this at least and at most.
const BAR: [f64; 2] = [15.0, 400.0];
/// Rounds in which its thickness is found, and how minutes grow with it.
const ROUNDS: usize = 6;
const GROWTH: f64 = 1.7;

/// What a roast's step was planned with: enough to say how it stands whatever it goes through.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Roasting {
    /// The roast.
    pub roast: Roast,
    /// What was known of this kitchen.
    pub calibration: Calibration,
    /// The centre at which the cook ends the long stage, degrees C; where the model would, if absent.
    pub until_c: Option<f64>,
}

impl Roasting {
    /// A roast of which no more is known than its minutes from one centre to another, in an oven of `oven_c` degrees C: a bar
    /// twice as long as it is thick that takes just as long. `None` where no such bar does, or where there is no model.
    pub fn of_minutes(from_c: f64, to_c: f64, heat: Heat, oven_c: f64, minutes: f64) -> Option<Self> {
        let (at, oven) = (oven_c.round() as i64, Oven::new(heat, oven_c.round() as i64, oven_c.round() as i64));
        let mut roast = Roast {
            weight_g: None,
            thickness_mm: Some(100.0),
            start_c: from_c,
            rest_min: 0.0,
            ..Roast::of(Meat::Beef, Cut::Cylinder, 1_000.0, to_c)
        };
        for _ in 0..ROUNDS {
            let thick = roast.thickness_mm?;
            let factor = minutes / minutes_to(&roast, &oven, at as f64, to_c).ok()?;
            roast.thickness_mm = Some((thick * factor.powf(1.0 / GROWTH)).clamp(BAR[0], BAR[1]));
            if (factor - 1.0).abs() < 0.01 {
                return Some(Self { roast, calibration: Calibration::of_a_guess(), until_c: Some(to_c) });
            }
        }
        None
    }

    /// The same to a millionth, so that it is stored and read back as it is.
    #[must_use]
    pub fn to_a_millionth(self) -> Self {
        let fine = |value: f64| (value * 1e6).round() / 1e6;
        let Self { roast, calibration, until_c } = self;
        let finish = match roast.finish {
            Finish::None => Finish::None,
            Finish::HotFirst { at_c, minutes } => Finish::HotFirst { at_c: fine(at_c), minutes },
            Finish::HotLast { at_c, minutes, gap_min } => Finish::HotLast { at_c: fine(at_c), minutes, gap_min },
        };
        let [start_c, target_c] = [roast.start_c, roast.target_c].map(fine);
        let [log_mean, log_sd] = [calibration.log_mean, calibration.log_sd].map(fine);
        Self {
            roast: Roast { start_c, target_c, finish, ..roast },
            calibration: Calibration { log_mean, log_sd, ..calibration },
            until_c: until_c.map(fine),
        }
    }

    /// The centre at which its long stage ends in an oven set to so many degrees C; `None` if it never does.
    pub fn ends_c(&self, oven: &Oven, dial_c: f64) -> Option<f64> {
        let at = dial_c.round() as i64;
        let oven = Oven { lo_c: at, hi_c: at, ..*oven };
        let by_model =
            || Some(forecast_with(&self.roast, &oven, &self.calibration, REGION).ok()?.ways.first()?.long_end_c);
        self.until_c.or_else(by_model)
    }

    /// What it has been through when its long stage begins: the hot start, if it has one.
    pub fn before(&self, heat: Heat) -> Option<Spell> {
        match self.roast.finish {
            Finish::HotFirst { at_c, minutes } => Some(Spell::oven(minutes.ceil(), heat, at_c)),
            _ => None,
        }
    }
}

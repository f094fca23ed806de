//! The air about a roast: the constants of each kind of heat, and the counter.

use crate::problem::Heat;

use super::carry_over::Cover;
use super::fitted::Fitted;
use super::heat::{Surroundings, saturation};

/// Emissivity of a roast in an oven (0.74 to 0.78 is quoted for raw beef; the fit was made with 0.9).
const EMISSIVITY: f64 = 0.9;
/// The vapour in a cavity comes from the roast, the more the hotter it is: it is taken to rise in proportion to the degrees
/// above this (our assumption).
const NO_VAPOUR_C: f64 = 60.0;
/// Where [`Fitted::vapour`] is stated, degrees C.
const VAPOUR_C: f64 = 150.0;
/// How convection falls with thickness: Nu ~ Ra^(1/4) about a bar in still air, Nu ~ Re^0.6 in moving air (Incropera and
/// DeWitt, chapters 7 and 9, from memory).
const STILL_SIZE: f64 = 0.25;
const FAN_SIZE: f64 = 0.4;
/// Air of a kitchen: degrees C, and vapour pressure in Pa (half saturated).
pub const KITCHEN_C: f64 = 21.0;
const KITCHEN_VAPOUR: f64 = 1_250.0;
/// Convection about a roast that rests in still air, W/m2K.
const RESTING: f64 = 6.0;
/// What a cold tray takes, mean over the whole surface, W/m2K (our assumption: a sixth of it touches).
const COLD_TRAY: f64 = 3.0;

/// Convection in a cavity about a dish, W/m2K: 20 with a fan, 6 still (handbook ranges are 15 to 40 and 5 to 10, from
/// memory); a spit is taken as a still oven. `None` where we have no model: steam and grill.
pub fn convection(heat: Heat) -> Option<f64> {
    match heat {
        Heat::Fan => Some(20.0),
        Heat::Static | Heat::Spit => Some(6.0),
        Heat::Steam | Heat::Grill => None,
    }
}

/// Convection about a roast of `thickness_mm`, W/m2K: as fitted, and the more the thinner it is.
pub(super) fn about_a_roast(heat: Heat, thickness_mm: f64, fitted: &Fitted) -> Option<f64> {
    let size = Fitted::THICKNESS / thickness_mm.max(1.0);
    match heat {
        Heat::Fan => Some(fitted.fan * size.powf(FAN_SIZE)),
        Heat::Static | Heat::Spit => Some(fitted.still * size.powf(STILL_SIZE)),
        Heat::Steam | Heat::Grill => None,
    }
}

/// A cavity at `air` degrees C. Cool air holds no more vapour than saturation allows.
pub(super) fn cavity(air: f64, convection: f64, fitted: &Fitted) -> Surroundings {
    let share = ((air - NO_VAPOUR_C) / (VAPOUR_C - NO_VAPOUR_C)).max(0.05);
    let vapour = (fitted.vapour * share).min(saturation(air));
    Surroundings { air, convection, emissivity: EMISSIVITY, wet: fitted.wet, vapour, crust: fitted.crust }
}

/// The counter, under what the roast rests: foil shines and holds the steam back, a wrap keeps all of it (the figures are
/// our assumptions; the published rises bear them out, see [`carry_over`](super::carry_over)). A cold tray draws heat where
/// it touches.
pub(super) fn counter(cover: Cover, cold_tray: bool) -> Surroundings {
    let wet = Fitted::FOUND.wet;
    let (convection, emissivity, wet, vapour) = match cover {
        Cover::Open => (RESTING, EMISSIVITY, wet, KITCHEN_VAPOUR),
        Cover::Tented => (RESTING / 2.0, 0.3, wet, 8_000.0),
        Cover::Wrapped => (RESTING / 2.0, 0.3, 0.0, KITCHEN_VAPOUR),
    };
    let convection = convection + if cold_tray { COLD_TRAY } else { 0.0 };
    Surroundings { air: KITCHEN_C, convection, emissivity, wet, vapour, crust: Fitted::FOUND.crust }
}

//! The air about a roast: the constants of each kind of heat, and the counter.

use crate::problem::Heat;

use super::heat::{Surroundings, saturation};

/// Emissivity of a roast in an oven (0.74 to 0.78 is quoted for raw beef; the fit was made with 0.9).
const EMISSIVITY: f64 = 0.9;
/// Effective wet conductance of a roast, W/m2K. Fitted range 2 to 4.
const WET: f64 = 3.0;
/// Vapour pressure in a cavity with a roast in it, Pa. Fitted range 20 to 30 kPa.
const CAVITY_VAPOUR: f64 = 30_000.0;
/// Air of a kitchen: degrees C, and vapour pressure in Pa (half saturated).
pub const KITCHEN_C: f64 = 21.0;
const KITCHEN_VAPOUR: f64 = 1_250.0;
/// Convection about a roast that rests in still air, W/m2K.
const STILL: f64 = 6.0;

/// Convection in a cavity, W/m2K: 20 with a fan, 6 still (fitted); a spit is taken as a still oven. `None` where we have
/// no model: steam and grill.
pub fn convection(heat: Heat) -> Option<f64> {
    match heat {
        Heat::Fan => Some(20.0),
        Heat::Static | Heat::Spit => Some(STILL),
        Heat::Steam | Heat::Grill => None,
    }
}

/// A cavity at `air` degrees C. Cool air holds no more vapour than saturation allows.
pub fn cavity(air: f64, convection: f64) -> Surroundings {
    let vapour = CAVITY_VAPOUR.min(saturation(air));
    Surroundings { air, convection, emissivity: EMISSIVITY, wet: WET, vapour }
}

/// The counter, uncovered.
pub fn counter() -> Surroundings {
    Surroundings { air: KITCHEN_C, convection: STILL, emissivity: EMISSIVITY, wet: WET, vapour: KITCHEN_VAPOUR }
}

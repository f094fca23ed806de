//! Ovens that may be too cool: consumer advice and the Food Code's table, which differ.

use super::Topic;
use super::caution::{Caution, Weight, assumed, read};
use crate::problem::Heat;

/// USDA's advice to consumers: no lower than this for meat and poultry, degrees C.
pub const CONSUMER_C: f64 = 163.0;

/// The Food Code's least oven temperature for whole beef roasts, degrees C.
pub fn food_code_c(heat: Heat, weight_g: Option<f64>) -> f64 {
    match (heat, weight_g.is_some_and(|g| g >= 4500.0)) {
        (Heat::Steam, _) | (_, true) => 121.0,
        (Heat::Fan, false) => 163.0,
        (_, false) => 177.0,
    }
}

/// An oven temperature on both scales; the Fahrenheit scale of a dial goes by fives, as the rules do.
fn dial(celsius: f64) -> String {
    format!("{celsius:.0} C ({:.0} F)", ((celsius * 1.8 + 32.0) / 5.0).round() * 5.0)
}

/// What to say about a roast in an oven of `oven_c` degrees C, and which rule the plan then follows.
pub fn low_oven(oven_c: f64, heat: Heat, weight_g: Option<f64>) -> Option<Caution> {
    let code = food_code_c(heat, weight_g);
    if oven_c >= CONSUMER_C {
        return None;
    }
    let home = format!("oven at {}, below the {} that USDA advises to consumers", dial(oven_c), dial(CONSUMER_C));
    let text = if oven_c >= code {
        format!("{home}; it follows the Food Code's roast table instead: {} for this oven and weight", dial(code))
    } else {
        format!("{home} and below the {} of the Food Code's roast table for this oven and weight", dial(code))
    };
    Some(Caution::new(
        Topic::LowOven,
        Weight::Caution,
        text,
        read("USDA FSIS consumer guidance; FDA Food Code 3-401.11(B)(1) as adopted in NY 1 NYCRR 271-2.10"),
    ))
}

/// The outer layer must leave 5 to 54 C within this many minutes.
pub const SURFACE_MINUTES: f64 = 240.0;

/// What to say when the layer 10 mm deep is still below 54 C after four hours, `minutes` being when it got there.
pub fn slow_surface(minutes: Option<f64>) -> Option<Caution> {
    if minutes.is_some_and(|m| m <= SURFACE_MINUTES) {
        return None;
    }
    Some(Caution::new(
        Topic::LowOven,
        Weight::Breach,
        "the outer 10 mm are not past 54 C (129 F) within 4 hours: use a hotter oven, or a hot start",
        assumed("engineering judgement, after the Food Code's four hours"),
    ))
}

//! How long cold food takes to heat through in an oven, and the limit.

use serde::{Deserialize, Serialize};

use crate::cook::air::convection;
use crate::cook::fault::{Fault, Legal, none_of};
use crate::cook::food::Composition;
use crate::cook::heat::{Axis, Body, Exposure, Material, Surroundings, saturation};
use crate::cook::safety::Topic;
use crate::cook::safety::{Caution, Region, Weight, both};
use crate::problem::Heat;

const CELLS: usize = 24;
/// Nothing is followed for longer, minutes.
const LONGEST: f64 = 720.0;
/// Real over computed minutes: the range (our assumption).
const RANGE: [f64; 2] = [0.75, 1.35];

/// A pan of cold food and an oven.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reheat {
    /// Depth of the food, mm: 5 to 200.
    pub depth_mm: f64,
    /// Its temperature, degrees C: 0 to 40.
    pub start_c: f64,
    /// Oven temperature, degrees C: 100 to 260.
    pub oven_c: f64,
    /// Fan or static.
    pub heat: Heat,
    /// Covered.
    #[serde(default)]
    pub covered: bool,
}

/// How long it takes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Reheating {
    /// The centre temperature to reach, degrees C.
    pub to_c: f64,
    /// The estimate; `None` if the middle does not get there in twelve hours.
    pub minutes: Option<f64>,
    /// Its range.
    pub range_min: Option<[f64; 2]>,
    /// What holds for it.
    pub cautions: Vec<Caution>,
}

/// Minutes until the coldest place of a pan is at the region's reheating temperature.
///
/// # Errors
/// Every number out of its range, or a heat without a model.
pub fn reheat(pan: &Reheat, region: Region) -> Result<Reheating, Vec<Fault>> {
    let mut faults = Vec::new();
    Legal::new("depth_mm", 5.0, 200.0, "mm").check(pan.depth_mm, &mut faults);
    Legal::new("start_c", 0.0, 40.0, "C").check(pan.start_c, &mut faults);
    Legal::new("oven_c", 100.0, 260.0, "C").check(pan.oven_c, &mut faults);
    let moving = convection(pan.heat);
    if moving.is_none() {
        let why = "there is no model for steam and grill: use fan or static".to_owned();
        faults.push(Fault::Unsuitable { field: "heat", why });
    }
    none_of(faults)?;
    let to_c = region.reheat_c().value;
    let minutes = minutes(pan, moving.unwrap_or_default(), to_c);
    let limit = region.reheat_minutes();
    let mut cautions = vec![Caution::new(
        Topic::Reheating,
        Weight::Caution,
        format!("reheat to {} in the middle, once only, and stir or probe in several places", both(to_c)),
        region.reheat_c().source,
    )];
    if minutes.is_none_or(|m| m > limit.value) {
        let text =
            format!("the middle is not hot within {:.0} min: shallower pans, a hotter oven, or the hob", limit.value);
        cautions.push(Caution::new(Topic::Reheating, Weight::Breach, text, limit.source));
    }
    Ok(Reheating { to_c, minutes, range_min: minutes.map(|m| RANGE.map(|f| f * m)), cautions })
}

fn minutes(pan: &Reheat, convection: f64, to_c: f64) -> Option<f64> {
    let bottom = Surroundings { emissivity: 0.9, ..Surroundings::convective(pan.oven_c, convection) };
    let wet = if pan.covered { 0.0 } else { 3.0 };
    let top = Surroundings { wet, vapour: saturation(pan.oven_c).min(30_000.0), ..bottom };
    let material = Material::food(&Composition::STEW, pan.start_c);
    let mut body = Body::new(vec![Axis::plate(pan.depth_mm / 1000.0, CELLS)], material, pan.start_c);
    let step = body.step_seconds();
    let (mut minute, mut before) = (0.0, pan.start_c);
    while minute < LONGEST {
        body.step(step, &Exposure { near: bottom, far: top });
        let coldest = body.coldest();
        if coldest >= to_c {
            return Some(minute + step / 60.0 * (to_c - before) / (coldest - before));
        }
        (minute, before) = (minute + step / 60.0, coldest);
    }
    None
}

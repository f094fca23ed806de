//! The body that stands for a roast.

use std::f64::consts::PI;

use super::Roast;
use crate::cook::cut::{Cut, RIB_LENGTH, RIB_THICKNESS, Solid, composition};
use crate::cook::fault::Fault;

/// The body, or what is missing. Thickness and weight settle the length; weight alone goes by the ratio of the cut.
pub(super) fn solid(roast: &Roast) -> Result<Solid, Fault> {
    let missing = |field, give| Fault::Missing { field, give };
    match roast.cut {
        Cut::Slab => {
            let thickness_mm = roast.thickness_mm.ok_or(missing("thickness_mm", "measure the thickest place"))?;
            Ok(Solid::Slab { thickness_mm })
        }
        Cut::Brick => match (roast.thickness_mm, roast.breadth_mm, roast.length_mm) {
            (Some(a), Some(b), Some(c)) => {
                let mut edges = [a, b, c];
                edges.sort_by(f64::total_cmp);
                Ok(Solid::Brick { thickness_mm: edges[0], breadth_mm: edges[1], length_mm: edges[2] })
            }
            _ => Err(missing("thickness_mm, breadth_mm, length_mm", "measure all three edges of a block")),
        },
        Cut::Ball => {
            let weighed = volume(roast).map(|v| (6.0 * v / PI).cbrt());
            let diameter_mm = roast.thickness_mm.or(weighed).ok_or(missing("weight_g", "weigh it, or measure it"))?;
            Ok(Solid::Ball { diameter_mm })
        }
        _ => {
            let diameter_mm = match roast.thickness_mm {
                Some(thickness) => thickness,
                None => thickness_by_weight(roast).ok_or(missing("weight_g", "weigh it, or measure its thickness"))?,
            };
            let length_mm = roast.length_mm.or_else(|| length_by_weight(roast, diameter_mm));
            let length_mm = length_mm.unwrap_or(diameter_mm * roast.cut.ratio(roast.bone, roast.tied));
            Ok(Solid::Cylinder { diameter_mm, length_mm: length_mm.clamp(10.0, 2_000.0) })
        }
    }
}

/// Volume that heat has to fill, mm3.
fn volume(roast: &Roast) -> Option<f64> {
    let density = composition(roast.meat, roast.cut).density(roast.start_c.clamp(0.0, 40.0));
    Some(roast.weight_g? * 1e6 / density * roast.cut.filled(roast.stuffed))
}

fn thickness_by_weight(roast: &Roast) -> Option<f64> {
    let volume = volume(roast)?;
    if roast.cut == Cut::Rib && roast.bone {
        return Some(RIB_THICKNESS);
    }
    match roast.length_mm {
        Some(length) => Some((4.0 * volume / (PI * length)).sqrt()),
        None => Some((4.0 * volume / (PI * roast.cut.ratio(roast.bone, roast.tied))).cbrt()),
    }
}

fn length_by_weight(roast: &Roast, diameter: f64) -> Option<f64> {
    if roast.cut == Cut::Rib && roast.bone {
        return Some(RIB_LENGTH * roast.weight_g? / 1000.0);
    }
    // What is called its thickness is no more than its length: a light, thick piece is a stump, not a disc.
    Some((volume(roast)? / (PI / 4.0 * diameter * diameter)).max(diameter))
}

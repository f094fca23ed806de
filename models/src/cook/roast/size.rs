//! The body that stands for a roast.

use std::f64::consts::PI;

use super::Roast;
use crate::cook::cut::{Cut, Meat, Solid, composition};
use crate::cook::fault::Fault;
use crate::cook::fitted::{BodyKind, Fitted};

/// Length over thickness of a bird's body, and of something long and round of which only the weight is known: an eye of round,
/// too (our assumptions; published minutes for an eye of round lie a factor of two apart, and this is between them).
const BIRD: f64 = 1.2;
const BAR: f64 = 2.0;
/// Length over thickness of a whole fish, as round as it is heavy (our assumption).
const WHOLE_FISH: f64 = 5.0;
/// A side or a fillet of fish of a kilogram is so thick, mm, and keeps its shape (our assumption).
const SIDE: f64 = 28.0;
/// How broad a piece of fish is, mm: heat comes in at its edges too, the more the thicker it is (our assumption). Its section
/// is an oval, which thins out to its edges: it stands as a block of the same area, so much less broad.
const FISH_BREADTH: f64 = 100.0;

/// The body, or what is missing. Thickness and weight settle the length; weight alone goes by the cut.
pub(super) fn solid(roast: &Roast, fitted: &Fitted) -> Result<Solid, Fault> {
    let missing = |field, give| Fault::Missing { field, give };
    match roast.cut {
        Cut::Slab => {
            let side = roast.weight_g.filter(|_| roast.meat == Meat::Fish).map(|g| SIDE * (g / 1_000.0).cbrt());
            let thickness = roast.thickness_mm.or(side);
            let thickness_mm = thickness.ok_or(missing("thickness_mm", "measure the thickest place"))?;
            if roast.meat != Meat::Fish {
                return Ok(Solid::Slab { thickness_mm });
            }
            let breadth_mm = (PI / 4.0 * roast.breadth_mm.unwrap_or(FISH_BREADTH)).max(thickness_mm);
            let by_weight = || Some(whole_volume(roast, roast.weight_g?) / (thickness_mm * breadth_mm));
            let length_mm = roast.length_mm.or_else(by_weight).unwrap_or(2.0 * breadth_mm).clamp(breadth_mm, 2_000.0);
            Ok(Solid::Brick { thickness_mm, breadth_mm, length_mm })
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
            let weighed = volume(roast, fitted).map(|v| (6.0 * v / PI).cbrt());
            let diameter_mm = roast.thickness_mm.or(weighed).ok_or(missing("weight_g", "weigh it, or measure it"))?;
            Ok(Solid::Ball { diameter_mm })
        }
        _ => {
            let by_weight = || thickness_by_weight(roast, fitted);
            let thickness = roast.thickness_mm.or_else(by_weight);
            let diameter_mm = thickness.ok_or(missing("weight_g", "weigh it, or measure its thickness"))?;
            let by_weight = || volume(roast, fitted).map(|v| v / (PI / 4.0 * diameter_mm * diameter_mm));
            // What is called its thickness is no more than its length: a light, thick piece is a stump, not a disc.
            let length_mm = roast.length_mm.or_else(|| Some(by_weight()?.max(diameter_mm)));
            let length_mm = length_mm.unwrap_or(diameter_mm * BAR);
            Ok(Solid::Cylinder { diameter_mm, length_mm: length_mm.clamp(10.0, 2_000.0) })
        }
    }
}

/// The body of a roast, if it is a cut and no plain shape.
fn kind(roast: &Roast) -> Option<BodyKind> {
    BodyKind::of(roast.cut, roast.bone, roast.stuffed)
}

/// How thick a cut of so many grams is taken to be, mm.
fn thickness(roast: &Roast, kind: BodyKind, grams: f64, fitted: &Fitted) -> f64 {
    let growth = if kind == BodyKind::RibBone { fitted.rib_growth } else { fitted.growth };
    let tied = roast.tied && matches!(kind, BodyKind::Fillet | BodyKind::RibBoned);
    let at_five = fitted.thickness[kind as usize] * if tied { fitted.tied } else { 1.0 };
    at_five * (grams / Fitted::WEIGHT).powf(growth)
}

/// Volume that heat has to fill, mm3: of a bird its body without limbs, frame and hollow.
fn volume(roast: &Roast, fitted: &Fitted) -> Option<f64> {
    let grams = roast.weight_g?;
    match kind(roast).filter(|kind| kind.bird()) {
        Some(kind) => Some(BIRD * PI / 4.0 * thickness(roast, kind, grams, fitted).powi(3)),
        None => Some(whole_volume(roast, grams)),
    }
}

/// Volume of the whole piece, mm3.
pub(super) fn whole_volume(roast: &Roast, grams: f64) -> f64 {
    grams * 1e6 / composition(roast.meat, roast.cut).density(roast.start_c.clamp(0.0, 40.0))
}

fn thickness_by_weight(roast: &Roast, fitted: &Fitted) -> Option<f64> {
    let grams = roast.weight_g?;
    if let Some(length) = roast.length_mm {
        return Some((4.0 * volume(roast, fitted)? / (PI * length)).sqrt());
    }
    Some(match kind(roast) {
        Some(kind) => thickness(roast, kind, grams, fitted),
        None => {
            let ratio = if roast.meat == Meat::Fish { WHOLE_FISH } else { BAR };
            (4.0 * whole_volume(roast, grams) / (PI * ratio)).cbrt()
        }
    })
}

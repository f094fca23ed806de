//! What a roast and an oven may be.

use super::size::solid;
use super::{Finish, Oven, Roast, RoastFault};
use crate::cook::air;
use crate::cook::cut::{Cut, Solid};
use crate::cook::fault::{Fault, Legal};
use crate::cook::fitted::Fitted;
use crate::cook::thaw;

/// Lowest and highest oven temperature with a model, degrees C.
pub(super) const OVEN: [f64; 2] = [80.0, 260.0];
/// Widest span of accepted temperatures: a dozen steps of 10 C.
const SPAN: i64 = 110;

/// Every fault of a roast, and the body that stands for it if there is none.
pub(super) fn check_roast(roast: &Roast, fitted: &Fitted, faults: &mut Vec<Fault>) -> Option<Solid> {
    let before = faults.len();
    let optional = [
        (Legal::new("weight_g", 100.0, 20_000.0, "g"), roast.weight_g),
        (Legal::new("thickness_mm", 15.0, 400.0, "mm"), roast.thickness_mm),
        (Legal::new("breadth_mm", 15.0, 600.0, "mm"), roast.breadth_mm),
        (Legal::new("length_mm", 15.0, 1_200.0, "mm"), roast.length_mm),
    ];
    for (legal, value) in optional {
        if let Some(value) = value {
            legal.check(value, faults);
        }
    }
    if roast.start_c < 0.0 && roast.start_c.is_finite() {
        let days = thaw::refrigerator_days(roast.weight_g.unwrap_or(2_000.0));
        let why =
            format!("it is frozen: freezing is not modelled. Thaw it first, about {days:.0} days in the refrigerator");
        faults.push(Fault::Unsuitable { field: "start_c", why });
    } else {
        Legal::new("start_c", 0.0, 40.0, "C").check(roast.start_c, faults);
    }
    Legal::new("target_c", 40.0, 90.0, "C").check(roast.target_c, faults);
    if roast.target_c <= roast.start_c {
        let why = "the target must lie above the start".to_owned();
        faults.push(Fault::Unsuitable { field: "target_c", why });
    }
    Legal::new("rest_min", 0.0, 240.0, "min").check(roast.rest_min, faults);
    if let Finish::HotFirst { at_c, minutes } | Finish::HotLast { at_c, minutes, .. } = roast.finish {
        Legal::new("finish.at_c", 150.0, 280.0, "C").check(at_c, faults);
        Legal::new("finish.minutes", 3.0, 60.0, "min").check(minutes, faults);
    }
    if let Finish::HotLast { gap_min, .. } = roast.finish {
        Legal::new("finish.gap_min", 0.0, 120.0, "min").check(gap_min, faults);
    }
    if faults.len() > before {
        return None;
    }
    match solid(roast, fitted) {
        Ok(solid) => {
            Legal::new("thickness_mm", 15.0, 400.0, "mm").check(solid.thickness_mm(), faults);
            Some(solid).filter(|_| faults.len() == before)
        }
        Err(fault) => {
            faults.push(fault);
            None
        }
    }
}

/// Every fault of an oven.
pub(super) fn check_oven(oven: &Oven, faults: &mut Vec<Fault>) {
    Legal::new("oven.lo_c", OVEN[0], OVEN[1], "C").check(oven.lo_c as f64, faults);
    Legal::new("oven.hi_c", OVEN[0], OVEN[1], "C").check(oven.hi_c as f64, faults);
    Legal::new("oven.rise", 5.0, 1_000.0, "C per 10 min").check(oven.rise, faults);
    Legal::new("oven.fall", 5.0, 1_000.0, "C per 10 min").check(oven.fall, faults);
    if let Some(start) = oven.start_c {
        Legal::new("oven.start_c", 0.0, 300.0, "C").check(start, faults);
    }
    let unsuitable = |field, why: &str| Fault::Unsuitable { field, why: why.to_owned() };
    if oven.hi_c < oven.lo_c {
        faults.push(unsuitable("oven.hi_c", "it lies below oven.lo_c"));
    } else if oven.hi_c.saturating_sub(oven.lo_c) > SPAN {
        faults.push(unsuitable("oven.hi_c", "accept a span of at most 110 C, a dozen steps of 10 C"));
    }
    if air::convection(oven.heat).is_none() {
        faults.push(unsuitable("oven.heat", "there is no model for steam and grill: use fan, static or spit"));
    }
}

/// The oven temperatures to look at: the two ends, and the full tens between them that are not nearly one of these.
pub(super) fn steps(oven: &Oven) -> impl Iterator<Item = i64> {
    let (lo, hi) = (oven.lo_c, oven.hi_c);
    let near = |one: i64, other: i64| one.saturating_sub(other).abs() < 3;
    let first = lo.saturating_add(10).div_euclid(10).saturating_mul(10);
    let tens = (0..=SPAN / 10).map(move |i| first.saturating_add(10 * i)).take_while(move |&t| t < hi);
    let tens = tens.filter(move |&t| !near(t, lo) && !near(t, hi));
    std::iter::once(lo).chain(tens).chain((hi > lo).then_some(hi))
}

/// Both at once, or everything that is wrong.
pub(super) fn check(
    roast: &Roast,
    oven: &Oven,
    fitted: &Fitted,
    mut faults: Vec<Fault>,
) -> Result<(Solid, f64), RoastFault> {
    let solid = check_roast(roast, fitted, &mut faults);
    check_oven(oven, &mut faults);
    match solid {
        Some(solid) if faults.is_empty() => match air::about_a_roast(oven.heat, solid.thickness_mm(), fitted) {
            Some(convection) => {
                let tray = if roast.cut == Cut::Slab { fitted.tray } else { 0.0 };
                Ok((solid, convection + tray))
            }
            None => Err(RoastFault::Input(faults)),
        },
        _ => Err(RoastFault::Input(faults)),
    }
}

//! Words for what a model says, and faults for what it refuses.

use super::super::found::Found;
use crate::cook::Fault;
use crate::cook::roast::RoastFault;
use crate::faults::{Code, Origin};
use crate::feast::Units;

/// What the minutes count on, if other pans share the oven: at the end of a sentence.
pub(super) fn beside(pans: u32) -> String {
    match pans {
        0 => String::new(),
        1 => ", with one more cold pan in the oven".to_owned(),
        more => format!(", with {more} more cold pans in the oven"),
    }
}

/// The temperature of food, to the degree: a thermometer is read more finely than a dial.
pub(super) fn centre(units: Units, celsius: f64) -> String {
    match units {
        Units::Customary => format!("{:.0} F", celsius * 9.0 / 5.0 + 32.0),
        Units::Metric | Units::Gas => format!("{celsius:.0} C"),
    }
}

/// Two temperatures of food: `63 to 68 C`.
pub(super) fn centres(units: Units, [low, high]: [f64; 2]) -> String {
    let [low, high] = [low, high].map(|celsius| centre(units, celsius));
    if low == high { low } else { format!("{} to {high}", low.trim_end_matches([' ', 'C', 'F'])) }
}

/// Notes why there is no forecast.
pub(super) fn refused(fault: &RoastFault, part: Origin, found: &mut Found<'_>) {
    match fault {
        RoastFault::Input(faults) => input(faults, part, found),
        RoastFault::NoWay(skipped) => {
            let why: Vec<String> =
                skipped.iter().map(|skipped| format!("at {} C {}", skipped.oven_c, skipped.why)).collect();
            let remedy = "accept other oven temperatures, or change what it is roasted to";
            found.field(Code::Unroastable, part, "accepts", why.join("; "), remedy);
        }
    }
}

/// Notes what is wrong with the input of a model, each at its field of the menu.
pub(super) fn input(faults: &[Fault], part: Origin, found: &mut Found<'_>) {
    for fault in faults {
        let name = said(fault.field());
        let (cause, remedy) = match (fault, fault.said()) {
            (Fault::Range { .. }, (cause, remedy)) => {
                (format!("\"{name}\" {cause}, for which there is no model"), remedy)
            }
            (Fault::Missing { .. }, (cause, remedy)) => (format!("\"{name}\" {cause}"), remedy),
            (Fault::Unsuitable { .. }, said) => said,
        };
        let remedy = remedy.unwrap_or_else(|| format!("change \"{name}\""));
        found.field(Code::Unroastable, part, name, cause, remedy);
    }
}

/// What a menu calls a field of a model.
fn said(model: &str) -> &'static str {
    match model {
        "weight_g" => "weight",
        "thickness_mm" | "thickness_mm, breadth_mm, length_mm" => "thickness",
        "breadth_mm" => "breadth",
        "length_mm" => "length",
        "start_c" => "start",
        "target_c" => "to",
        "rest_min" => "rest",
        "finish.at_c" | "finish.minutes" | "finish.gap_min" => "last",
        "oven.heat" | "heat" | "now.heat" => "heat",
        "minutes" => "takes",
        "oven_c" => "at",
        "done_c" => "done",
        "depth_mm" => "depth",
        _ => "accepts",
    }
}

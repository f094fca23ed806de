//! Faults of a model's input in the words of the command line.

use rangewright::models::cook::Fault;

/// What is wrong with which option, and what may be given instead.
pub(super) fn fault(fault: &Fault) -> String {
    let option = option(fault.field());
    match fault.said() {
        (cause, Some(remedy)) => format!("{option} {cause}: {remedy}"),
        (cause, None) => format!("{option}: {cause}"),
    }
}

/// The option that fills a field of a model.
fn option(field: &str) -> &str {
    match field {
        "weight_g" => "--weight",
        "thickness_mm" => "--thickness",
        "breadth_mm" => "--breadth",
        "length_mm" => "--length",
        "thickness_mm, breadth_mm, length_mm" => "--thickness, --breadth or --length",
        "start_c" => "--from",
        "target_c" => "--to",
        "rest_min" => "--rest",
        "finish.at_c" => "--hot-first or --hot-last",
        "finish.minutes" => "--hot-minutes",
        "finish.gap_min" => "--stand",
        "oven.lo_c" | "oven.hi_c" | "oven.lo_c, oven.hi_c" => "--oven",
        "oven.heat" => "--heat",
        "minute" | "core_c" => "--probe",
        "depth_mm" => "the depth",
        "adults" => "the number of adults",
        "children" => "--children",
        "mains" => "the number of main dishes",
        "sides" => "--sides",
        "vessel.width_mm" | "vessel.depth_mm" | "vessel.height_mm" | "vessel.fill_mm" => "--pan",
        "shelves.width_mm" | "shelves.depth_mm" | "shelves.height_mm" => "--inside",
        "shelves.racks" => "--racks",
        other => other,
    }
}

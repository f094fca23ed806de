//! Pans, racks and batches: a dish that does not fit one pan is split, and a load that does not fit one oven follows.

use serde::{Deserialize, Serialize};

use crate::cook::fault::{Fault, Legal, none_of};

/// Air kept clear at each side of a tray, mm: 25 to 40 by common practice.
const SIDE_AIR: f64 = 25.0;

/// A straight-sided pan.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Vessel {
    /// Outer width, mm: 50 to 1,000.
    pub width_mm: f64,
    /// Outer depth, mm: 50 to 1,000.
    pub depth_mm: f64,
    /// Height, mm: 10 to 400.
    pub height_mm: f64,
    /// How deep it is filled, mm: 5 to `height_mm`.
    pub fill_mm: f64,
}

/// Where the pans go.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shelves {
    /// Usable width, mm: 100 to 3,000.
    pub width_mm: f64,
    /// Usable depth, mm: 100 to 3,000.
    pub depth_mm: f64,
    /// Usable height, mm: 50 to 3,000.
    pub height_mm: f64,
    /// Racks at most: 1 to 20.
    pub racks: u32,
    /// Air above a dish, mm: 0 to 300; 25 to 40 by common practice, 50 or more for a gratin under a top element.
    pub clearance_mm: f64,
}

/// A dish over pans, and the pans over loads.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Split {
    /// How many pans.
    pub pans: u32,
    /// Food in each, g, rounded up.
    pub each_g: u32,
    /// How many pans go in together: side by side on each rack, times the racks that fit. 0: a pan does not fit.
    pub at_once: u32,
    /// Pans of each load, one load after the other; empty if a pan does not fit.
    pub loads: Vec<u32>,
}

/// Splits `weight_g` grams of food of `density` g/cm3 over pans of one size, and the pans over loads of an oven.
///
/// Pans stand in a plain grid, all turned the same way, with 25 mm of air between them and to the walls: a tighter
/// arrangement is the planner's business.
///
/// # Errors
/// Every number out of its range: grams 1 to 1,000,000, density 0.1 to 2.
pub fn split(weight_g: f64, density: f64, vessel: &Vessel, shelves: &Shelves) -> Result<Split, Vec<Fault>> {
    let mut faults = Vec::new();
    for (legal, value) in [
        (Legal::new("weight_g", 1.0, 1_000_000.0, "g"), weight_g),
        (Legal::new("density", 0.1, 2.0, "g/cm3"), density),
        (Legal::new("vessel.width_mm", 50.0, 1_000.0, "mm"), vessel.width_mm),
        (Legal::new("vessel.depth_mm", 50.0, 1_000.0, "mm"), vessel.depth_mm),
        (Legal::new("vessel.height_mm", 10.0, 400.0, "mm"), vessel.height_mm),
        (Legal::new("vessel.fill_mm", 5.0, vessel.height_mm.clamp(5.0, 400.0), "mm"), vessel.fill_mm),
        (Legal::new("shelves.width_mm", 100.0, 3_000.0, "mm"), shelves.width_mm),
        (Legal::new("shelves.depth_mm", 100.0, 3_000.0, "mm"), shelves.depth_mm),
        (Legal::new("shelves.height_mm", 50.0, 3_000.0, "mm"), shelves.height_mm),
        (Legal::new("shelves.racks", 1.0, 20.0, ""), f64::from(shelves.racks)),
        (Legal::new("shelves.clearance_mm", 0.0, 300.0, "mm"), shelves.clearance_mm),
    ] {
        legal.check(value, &mut faults);
    }
    none_of(faults)?;
    let holds = vessel.width_mm * vessel.depth_mm * vessel.fill_mm / 1000.0 * density;
    let pans = (weight_g / holds).ceil().max(1.0);
    let along = |room: f64, pan: f64| ((room - SIDE_AIR) / (pan + SIDE_AIR)).floor().max(0.0);
    let grid = |width: f64, depth: f64| along(shelves.width_mm, width) * along(shelves.depth_mm, depth);
    let abreast = grid(vessel.width_mm, vessel.depth_mm).max(grid(vessel.depth_mm, vessel.width_mm));
    let racks = (shelves.height_mm / (vessel.height_mm + shelves.clearance_mm)).floor().min(f64::from(shelves.racks));
    let (pans, at_once) = (pans as u32, (abreast * racks) as u32);
    Ok(Split { pans, each_g: (weight_g / f64::from(pans)).ceil() as u32, at_once, loads: loads(pans, at_once) })
}

/// Loads as even as they can be: a half-empty last load wastes an oven.
fn loads(pans: u32, at_once: u32) -> Vec<u32> {
    if at_once == 0 {
        return Vec::new();
    }
    let count = pans.div_ceil(at_once);
    (0..count).map(|i| pans / count + u32::from(i < pans % count)).collect()
}

//! Several roasts that want one oven, as a planning problem.

use std::collections::BTreeMap;

use super::size::whole_volume;
use super::{Forecast, Oven, Roast, RoastFault, Stage, forecast_with};
use crate::cook::calibrate::Calibration;
use crate::cook::cut::{Cut, Solid};
use crate::cook::safety::Region;
use crate::oven;
use crate::problem::{Cavity, Course, Dish, Heat, Link, Minute, Mode, Place, Problem, Shift, Sink, Step, Wait};

/// A roast that wants an oven, with what is accepted there.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// What the cook calls it; it becomes the dish's id.
    pub name: String,
    /// The roast.
    pub roast: Roast,
    /// The kind of heat.
    pub heat: Heat,
    /// Lowest and highest oven temperature accepted for the long stage, degrees C.
    pub oven_c: [i64; 2],
    /// Outer width, depth and height of its tin with what stands in it, mm; guessed from the roast if absent.
    pub pan: Option<[i64; 3]>,
}

/// The problem of several roasts, and what was forecast of each.
#[derive(Clone, Debug, PartialEq)]
pub struct Together {
    /// The problem; the names of the roasts are the ids of its dishes.
    pub problem: Problem,
    /// The forecast of each roast, in order: the range of the minutes and the cautions.
    pub forecasts: Vec<Forecast>,
}

/// A roast is served within so many minutes of the others (common practice, no source).
const TOGETHER: Minute = 10;
/// What a tin is larger than its roast on all sides together, mm (common practice, no source).
const AROUND: i64 = 50;
/// A tin weighs this, g (common practice, no source).
const TIN: i64 = 1_500;
/// A roast of unknown weight, g.
const UNKNOWN: i64 = 2_500;
/// A roast may go back into its oven, or on to its rest, within so many minutes.
const AT_ONCE: Minute = 5;

/// The problem of serving roasts together from one oven and nothing else, with two pairs of hands for two days. Each roast
/// may be made at each of its oven temperatures; it may rest for twice its rest at no cost but what a hot roast loses. What
/// is said of safety is said by the limits of `region`.
///
/// # Errors
/// What is wrong with which roast.
pub fn problem(roasts: &[Wanted], cavity: Cavity, region: Region) -> Result<Together, Vec<(String, RoastFault)>> {
    let mut problem = Problem {
        name: "roasts in one oven".to_owned(),
        opening: 0,
        shifts: vec![Shift { start: 0, end: 2_880, hands: 2 }],
        cooks: Vec::new(),
        pools: BTreeMap::new(),
        places: Vec::new(),
        dishes: Vec::new(),
        courses: Vec::new(),
        steps: Vec::new(),
        links: Vec::new(),
    };
    let mut sinks = Vec::new();
    let (mut forecasts, mut faults) = (Vec::new(), Vec::new());
    for wanted in roasts {
        let oven = Oven {
            rise: cavity.rise as f64,
            fall: cavity.fall as f64,
            ..Oven::new(wanted.heat, wanted.oven_c[0], wanted.oven_c[1])
        };
        match forecast_with(&wanted.roast, &oven, &Calibration::default(), region) {
            Ok(forecast) => {
                sinks.push(add(&mut problem, wanted, &forecast, &cavity.id));
                forecasts.push(forecast);
            }
            Err(fault) => faults.push((wanted.name.clone(), fault)),
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let hot = Wait { rate: 3, soft: Some(10), rate_after: 8 };
    problem.courses.push(Course {
        id: "the roasts".to_owned(),
        serve: 0,
        weight: 1,
        max_slip: 2_880,
        together: TOGETHER,
        sinks: sinks.into_iter().map(|step| Sink { step, wait: hot, pools: BTreeMap::new() }).collect(),
        after: None,
    });
    problem.places.push(Place::Cavity(cavity));
    Ok(Together { problem, forecasts })
}

/// Adds a roast with its stages and its rest; gives the id of its last step.
fn add(problem: &mut Problem, wanted: &Wanted, forecast: &Forecast, place: &str) -> String {
    let dish = &wanted.name;
    problem.dishes.push(Dish { id: dish.clone(), name: dish.clone() });
    let stages = forecast.ways.first().map_or(0, |way| way.stages.len());
    let mut last: Option<String> = None;
    for index in 0..stages {
        let [first, end] = [index == 0, index + 1 == stages];
        let gap = forecast.ways.iter().filter_map(|way| way.stages.get(index)?.after_gap_min).max();
        let mut modes: Vec<Mode> = Vec::new();
        for way in &forecast.ways {
            let Some(stage) = way.stages.get(index) else { continue };
            let minutes = stage.minutes.max(4);
            let spread = stage.long.then(|| [way.minutes - way.early_min, way.late_min - way.minutes]);
            let mode = mode(wanted, forecast, place, stage, minutes);
            // Hands put it in and take it out, unless it stays between two stages.
            let load = if first || gap.is_some() { 2 } else { 0 };
            let leaves = way.stages.get(index + 1).is_none_or(|next| next.after_gap_min.is_some());
            let mode = Mode { load, unload: if leaves { 2 } else { 0 }, spread, ..mode };
            // A hot stage is the same at every temperature of the long one, but for the rise: the longest counts.
            match modes.iter_mut().find(|other| other.t == mode.t) {
                Some(other) if other.min < mode.min => *other = mode,
                Some(_) => {}
                None => modes.push(mode),
            }
        }
        let kind = if forecast.ways[0].stages[index].long { "roast" } else { "finish" };
        let id = format!("{dish}/{kind}");
        problem.steps.push(Step {
            id: id.clone(),
            dish: dish.clone(),
            kind: kind.to_owned(),
            earliest: None,
            latest: None,
            wait: Wait::default(),
            modes,
        });
        if let Some(from) = last {
            let (wait, pools) = (Wait::default(), BTreeMap::new());
            let link = Link { from, to: id.clone(), min: 0, max: Some(0), stay: true, wait, pools };
            problem.links.push(match gap {
                Some(min) => Link { min, max: Some(2 * min + AT_ONCE), stay: false, wait: resting(min), ..link },
                None => link,
            });
        }
        last = Some(id.clone());
        if end && wanted.roast.rest_min >= 1.0 {
            last = Some(rest(problem, dish, &id, wanted.roast.rest_min.round() as Minute));
        }
    }
    last.unwrap_or_default()
}

fn mode(wanted: &Wanted, forecast: &Forecast, place: &str, stage: &Stage, minutes: Minute) -> Mode {
    let window = forecast.ways.iter().find(|way| way.oven_c == stage.oven_c).map(|way| way.window_c);
    Mode {
        place: Some(place.to_owned()),
        t: Some(window.unwrap_or(oven::around(stage.oven_c))),
        heat: Some(wanted.heat),
        pan: Some(wanted.pan.unwrap_or_else(|| tin(&wanted.roast, &forecast.solid))),
        weight: Some(wanted.roast.weight_g.map_or(UNKNOWN, |grams| grams.round() as i64) + TIN),
        ..Mode::at_counter(minutes, minutes)
    }
}

/// Adds the rest after the last heat.
fn rest(problem: &mut Problem, dish: &str, after: &str, minutes: Minute) -> String {
    let id = format!("{dish}/rest");
    problem.steps.push(Step {
        id: id.clone(),
        dish: dish.to_owned(),
        kind: "rest".to_owned(),
        earliest: None,
        latest: None,
        wait: resting(minutes),
        modes: vec![Mode::at_counter(minutes, 2 * minutes)],
    });
    let wait = Wait { rate: 3, soft: None, rate_after: 3 };
    let (from, pools) = (after.to_owned(), BTreeMap::new());
    problem.links.push(Link { from, to: id.clone(), min: 0, max: Some(AT_ONCE), stay: false, wait, pools });
    id
}

/// Longer rest costs nothing for as long again as half of it, then what a hot dish loses.
fn resting(minutes: Minute) -> Wait {
    Wait { rate: 0, soft: Some(minutes / 2), rate_after: 8 }
}

/// A tin a little larger than the roast; a bird is as large as if it were not hollow.
fn tin(roast: &Roast, solid: &Solid) -> [i64; 3] {
    let sides = match *solid {
        Solid::Cylinder { diameter_mm, length_mm } => [length_mm, diameter_mm, diameter_mm],
        Solid::Ball { diameter_mm } => [diameter_mm; 3],
        Solid::Slab { thickness_mm } => [330.0, 200.0, thickness_mm],
        Solid::Brick { thickness_mm, breadth_mm, length_mm } => [length_mm, breadth_mm, thickness_mm],
    };
    // A bird is as large as its whole weight, not as the body that heat has to fill.
    let taken: f64 = std::f64::consts::PI / 4.0 * sides[1] * sides[2] * sides[0];
    let swell = match roast.weight_g {
        Some(grams) if matches!(roast.cut, Cut::Bird | Cut::Duck) => {
            (whole_volume(roast, grams) / taken).cbrt().max(1.0)
        }
        _ => 1.0,
    };
    let [width, depth, height] = sides.map(|side| (side * swell).round() as i64);
    [width + AROUND, depth + AROUND, height + 20]
}

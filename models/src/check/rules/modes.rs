//! Each chosen mode is legal: its place can do alone what it asks for.

use crate::check::facts::Facts;
use crate::check::violation::{Illegal, Violation};
use crate::problem::{Cavity, Hob, Mode, Place, Top};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for run in &facts.runs {
        let Some(place) = run.place.map(|place| &facts.problem.places[place]) else { continue };
        let reasons = match place {
            Place::Cavity(cavity) => in_cavity(cavity, run.mode),
            Place::Hob(hob) => on_hob(hob, run.mode),
            Place::Top(top) => on_top(top, run.mode),
        };
        for why in reasons {
            violations.push(Violation::IllegalMode { step: run.id(), place: place.id().to_owned(), why });
        }
    }
}

fn in_cavity(cavity: &Cavity, mode: &Mode) -> Vec<Illegal> {
    let window = mode.t.is_some_and(|[low, high]| low <= cavity.t_max && cavity.t_min <= high);
    let heat = mode.heat.is_some_and(|heat| cavity.heats.contains(&heat));
    let pan = mode.pan.is_some_and(|[width, depth, height]| {
        let lies = |w, d| w <= cavity.width && d <= cavity.depth;
        (lies(width, depth) || lies(depth, width)) && height + cavity.clearance <= cavity.height
    });
    let weight = mode.weight.is_some_and(|weight| weight <= cavity.max_weight);
    failing([(window, Illegal::Temperature), (heat, Illegal::Heat), (pan, Illegal::Pan), (weight, Illegal::Weight)])
}

fn on_hob(hob: &Hob, mode: &Mode) -> Vec<Illegal> {
    let diameter = mode.diameter.is_some_and(|pan| hob.min_diameter <= pan && pan <= hob.max_diameter);
    failing([(meets(mode, hob.scale), Illegal::Level), (diameter, Illegal::Diameter)])
}

fn on_top(top: &Top, mode: &Mode) -> Vec<Illegal> {
    let pan = mode.diameter.is_some_and(|pan| pan <= top.width && pan <= top.depth);
    failing([(meets(mode, top.scale), Illegal::Level), (pan, Illegal::Pan)])
}

fn meets(mode: &Mode, scale: [i64; 2]) -> bool {
    mode.level.is_some_and(|[low, high]| low <= scale[1] && scale[0] <= high)
}

fn failing<const N: usize>(conditions: [(bool, Illegal); N]) -> Vec<Illegal> {
    conditions.into_iter().filter(|(holds, _)| !holds).map(|(_, why)| why).collect()
}

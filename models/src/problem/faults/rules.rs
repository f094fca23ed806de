//! What shifts, modes and stay links may not say, and ids that name nothing.

use std::collections::BTreeSet;

use crate::problem::legal::MINUTES;
use crate::problem::{Mode, Place, Problem, Shift, Step};

use super::kind::Named;
use super::{FaultKind, Faults, Names, Spot};

pub(super) fn check(problem: &Problem, names: &Names<'_>, faults: &mut Faults) {
    shifts(&problem.shifts, faults);
    for (i, step) in problem.steps.iter().enumerate() {
        let spot = Spot::named("steps", i, &step.id);
        if !names.dishes.contains_key(step.dish.as_str()) {
            faults.add(spot.field("dish"), unknown(Named::Dish, &step.dish));
        }
        if step.modes.is_empty() {
            faults.add(spot, FaultKind::NoModes);
        }
        for (m, mode) in step.modes.iter().enumerate() {
            self::mode(problem, names, mode, spot.inner("modes", m), faults);
        }
    }
    for (i, link) in problem.links.iter().enumerate().filter(|(_, link)| link.stay) {
        let spot = Spot::entry("links", i);
        if link.min != 0 || link.max != Some(0) {
            faults.add(spot, FaultKind::StayWithGap);
        }
        if let (Some(&from), Some(&to)) = (names.steps.get(link.from.as_str()), names.steps.get(link.to.as_str()))
            && !may_share_cavity(problem, names, &problem.steps[from], &problem.steps[to])
        {
            faults.add(spot, FaultKind::StayWithoutCavity);
        }
    }
}

pub(super) fn unknown(named: Named, id: &str) -> FaultKind {
    FaultKind::UnknownId { named, id: id.to_owned() }
}

fn shifts(shifts: &[Shift], faults: &mut Faults) {
    let mut order: Vec<usize> = (0..shifts.len()).filter(|&i| shifts[i].start < shifts[i].end).collect();
    order.sort_by_key(|&i| (shifts[i].start, i));
    let mut longest: Option<usize> = None;
    for i in order {
        if let Some(other) = longest.filter(|&other| shifts[i].start < shifts[other].end) {
            faults.add(Spot::entry("shifts", i), FaultKind::ShiftsOverlap { other });
        }
        if longest.is_none_or(|other| shifts[other].end < shifts[i].end) {
            longest = Some(i);
        }
    }
}

fn mode(problem: &Problem, names: &Names<'_>, mode: &Mode, spot: Spot<'_>, faults: &mut Faults) {
    for id in mode.pools.keys().filter(|&id| !problem.pools.contains_key(id)) {
        faults.add(spot.field("pools"), unknown(Named::Pool, id));
    }
    if let Some(id) = &mode.place {
        match names.places.get(id.as_str()) {
            Some(&place) => place_fields(&problem.places[place], mode, spot, faults),
            None => faults.add(spot.field("place"), unknown(Named::Place, id)),
        }
    }
    let hands_at_ends = mode.load > 0 || mode.unload > 0;
    if mode.hands > 0 && hands_at_ends {
        faults.add(spot, FaultKind::HandsAndLoad);
    }
    if mode.min == 0 && (mode.place.is_some() || mode.hands > 0 || mode.pools.values().any(|&amount| amount > 0)) {
        faults.add(spot, FaultKind::ZeroMinutes);
    }
    if [mode.min, mode.load, mode.unload].iter().all(|value| MINUTES.contains(value)) {
        let minutes = mode.load + mode.unload;
        if minutes > mode.min {
            faults.add(spot, FaultKind::LoadLongerThanStep { minutes, min: mode.min });
        }
    }
    if [mode.min, mode.shut].iter().all(|value| MINUTES.contains(value)) && mode.shut > mode.min {
        faults.add(spot, FaultKind::ShutLongerThanStep { shut: mode.shut, min: mode.min });
    }
}

fn place_fields(place: &Place, mode: &Mode, spot: Spot<'_>, faults: &mut Faults) {
    let cavity = [
        ("t", mode.t.is_some()),
        ("heat", mode.heat.is_some()),
        ("pan", mode.pan.is_some()),
        ("weight", mode.weight.is_some()),
    ];
    let hob = [("level", mode.level.is_some()), ("diameter", mode.diameter.is_some())];
    let needed: &[(&str, bool)] = match place {
        Place::Cavity(_) => &cavity,
        Place::Hob(_) | Place::Top(_) => &hob,
    };
    for (field, _) in needed.iter().filter(|(_, given)| !given) {
        faults.add(spot, FaultKind::MissingField { field: (*field).to_owned() });
    }
}

/// Whether two steps have a cavity in common. A place that is not known may be one: it is named elsewhere.
fn may_share_cavity(problem: &Problem, names: &Names<'_>, from: &Step, to: &Step) -> bool {
    let cavities = |step: &Step| -> Option<BTreeSet<usize>> {
        let places = step.modes.iter().filter_map(|mode| mode.place.as_deref());
        let known: Option<Vec<usize>> = places.map(|id| names.places.get(id).copied()).collect();
        Some(known?.into_iter().filter(|&place| matches!(problem.places[place], Place::Cavity(_))).collect())
    };
    match (cavities(from), cavities(to)) {
        (Some(from), Some(to)) => !from.is_disjoint(&to),
        _ => true,
    }
}

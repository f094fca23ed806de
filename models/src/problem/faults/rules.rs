//! What shifts, modes and stay links may not say, and ids that name nothing.

use std::collections::{BTreeMap, BTreeSet};

use crate::problem::legal::{COUNT, MINUTES};
use crate::problem::{Mode, Place, Problem, Step};

use super::kind::Named;
use super::{FaultKind, Faults, Names, Spot};

pub(super) fn check(problem: &Problem, names: &Names<'_>, faults: &mut Faults) {
    let hours: Vec<[i64; 2]> = problem.shifts.iter().map(|shift| [shift.start, shift.end]).collect();
    overlaps(&hours, |i| Spot::entry("shifts", i), faults);
    cooks(problem, faults);
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

/// Names the shifts that overlap earlier ones.
fn overlaps<'a>(shifts: &[[i64; 2]], spot: impl Fn(usize) -> Spot<'a>, faults: &mut Faults) {
    let mut order: Vec<usize> = (0..shifts.len()).filter(|&i| shifts[i][0] < shifts[i][1]).collect();
    order.sort_by_key(|&i| (shifts[i][0], i));
    let mut longest: Option<usize> = None;
    for i in order {
        if let Some(other) = longest.filter(|&other| shifts[i][0] < shifts[other][1]) {
            faults.add(spot(i), FaultKind::ShiftsOverlap { other });
        }
        if longest.is_none_or(|other| shifts[other][1] < shifts[i][1]) {
            longest = Some(i);
        }
    }
}

fn cooks(problem: &Problem, faults: &mut Faults) {
    if !problem.cooks.is_empty() && !problem.shifts.is_empty() {
        faults.add(Spot::top("cooks"), FaultKind::CooksAndShifts);
    }
    for (i, cook) in problem.cooks.iter().enumerate() {
        let hours: Vec<[i64; 2]> = cook.shifts.iter().map(|hours| [hours.start, hours.end]).collect();
        overlaps(&hours, |h| Spot::named("cooks", i, &cook.id).inner("shifts", h), faults);
    }
}

/// Who may do a mode: known, each once, and enough of them.
fn who(names: &Names<'_>, mode: &Mode, spot: Spot<'_>, faults: &mut Faults) {
    let Some(who) = &mode.who else { return };
    if who.is_empty() {
        faults.add(spot.field("who"), FaultKind::NobodyAllowed);
        return;
    }
    for (i, id) in who.iter().enumerate() {
        if !names.cooks.contains_key(id.as_str()) {
            faults.add(spot.field("who"), unknown(Named::Cook, id));
        } else if who[..i].contains(id) {
            let first = spot.field("who").to_string();
            faults.add(spot.field("who"), FaultKind::DuplicateId { first });
        }
    }
    let cooks = who.iter().collect::<BTreeSet<_>>().len();
    if COUNT.contains(&mode.hands) && mode.hands > cooks as i64 {
        faults.add(spot, FaultKind::MoreHandsThanCooks { hands: mode.hands, cooks });
    }
}

/// Pools that there are not.
pub(super) fn pools(problem: &Problem, pools: &BTreeMap<String, i64>, spot: Spot<'_>, faults: &mut Faults) {
    for id in pools.keys().filter(|&id| !problem.pools.contains_key(id)) {
        faults.add(spot.field("pools"), unknown(Named::Pool, id));
    }
}

fn mode(problem: &Problem, names: &Names<'_>, mode: &Mode, spot: Spot<'_>, faults: &mut Faults) {
    pools(problem, &mode.pools, spot, faults);
    who(names, mode, spot, faults);
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

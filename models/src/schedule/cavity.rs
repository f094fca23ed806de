//! A cavity's day: spells, settings, spots and doors.

use std::collections::BTreeMap;

use super::air::Corridor;
use super::crew::Crew;
use super::data::{CavityDay, Door, Spell};
use super::dial::Programme;
use super::pans;
use super::running::{Run, Runs};
use crate::problem::{Cavity, Minute, Problem};

pub(super) fn day(problem: &Problem, cavity: &Cavity, runs: &Runs<'_>, crew: &Crew) -> CavityDay {
    let here = runs.at(&cavity.id);
    let spells = spells(&here);
    let first = here.first().map_or(problem.opening, |run| run.start.min(problem.opening));
    let before = |run: &Run<'_>| {
        let earlier = runs.stays.get(run.id())?;
        here.iter().find(|other| other.id() == *earlier).copied()
    };
    let corridor = Corridor::new(cavity, &here, first, before);
    let settings = Programme::new(cavity, &corridor, &here, &spells, crew.presence()).settings(first);
    let (spots, unmet) = pans::in_cavity(cavity, &here, runs);
    let mut day = CavityDay { place: cavity.id.clone(), spells, settings, spots, unmet, doors: Vec::new() };
    day.doors = doors(&day, &here, runs);
    day
}

/// The maximal stretches in which something runs; `runs` in order of start.
fn spells(runs: &[Run<'_>]) -> Vec<Spell> {
    let mut spells: Vec<Spell> = Vec::new();
    for run in runs {
        match spells.last_mut() {
            Some(spell) if run.start <= spell.end => spell.end = spell.end.max(run.end),
            _ => spells.push(Spell { start: run.start, end: run.end }),
        }
    }
    spells
}

/// The door opens to put in, to take out, and to touch or shift what is inside; not where a pan stays in.
fn doors(day: &CavityDay, here: &[Run<'_>], runs: &Runs<'_>) -> Vec<Door> {
    let staying = runs.staying();
    let mut doors: BTreeMap<Minute, Door> = BTreeMap::new();
    let mut open = |at: Minute, what: fn(&mut Door) -> &mut Vec<String>, step: &str| {
        let door = doors.entry(at).or_insert_with(|| Door { at, ..Door::default() });
        what(door).push(step.to_owned());
    };
    for run in here {
        if !runs.stays.contains_key(run.id()) {
            open(run.start, |door| &mut door.puts_in, run.id());
        }
        if !staying.contains(run.id()) {
            open(run.end, |door| &mut door.takes_out, run.id());
        }
        for (_, _, begun) in run.touches() {
            open(begun, |door| &mut door.touches, run.id());
        }
    }
    for (step, at) in day.shifts() {
        open(at, |door| &mut door.shifts, step);
    }
    doors.into_values().collect()
}

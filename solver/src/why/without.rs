//! Giving up demands of a problem.

use std::collections::BTreeSet;

use rangewright_models::problem::{Minute, Mode, Place, Problem, Shift};

use super::fact::Fact;

/// The last minute a problem may speak of: 30 days.
pub(crate) const LAST_MINUTE: Minute = 43_200;
/// How much longer a given-up limit of minutes may run: a week.
const LONG: Minute = 10_080;
/// More hands, or burners, than any step can ask for.
const MANY: i64 = 1_000;
/// A side no pan exceeds, mm.
const WIDE: i64 = 5_000;

/// The problem with these demands given up. Whatever was a plan before is one still, but for the steps of dropped dishes.
///
/// "Given up" means: a dish is dropped with all that only it needs; serving may slip, and a step or a gap last, a week
/// longer; hands, burners, pools, room and weight are as many as anyone asks for; a temperature changes within a minute.
/// Where cooks are named, hands are given up for the whole time, and names with them, or not at all.
pub fn without(problem: &Problem, given_up: &[Fact]) -> Problem {
    let mut problem = problem.clone();
    let mut free_hands: Vec<(Minute, Minute)> = Vec::new();
    for fact in given_up {
        match fact {
            Fact::Dish { dish } => drop_dish(&mut problem, dish),
            Fact::Hands { from, to } => free_hands.push((*from, *to)),
            Fact::Opening => problem.opening = 0,
            Fact::Pool { pool } => give_up_pool(&mut problem, pool),
            Fact::Serving { course } | Fact::Together { course } | Fact::Following { course } => {
                give_up_course(&mut problem, course, fact);
            }
            Fact::Earliest { step } | Fact::Latest { step } | Fact::Keeping { step } | Fact::Shut { step } => {
                give_up_step(&mut problem, step, fact);
            }
            Fact::Gap { from, to } => {
                for link in problem.links.iter_mut().filter(|link| link.from == *from && link.to == *to) {
                    link.max = None;
                    link.stay = false;
                }
            }
            Fact::Burners { place }
            | Fact::Room { place }
            | Fact::Weight { place }
            | Fact::Temperature { place }
            | Fact::Changeover { place }
            | Fact::Heat { place }
            | Fact::Moisture { place } => give_up_place(&mut problem, place, fact),
        }
    }
    if !problem.cooks.is_empty() {
        if free_hands.iter().any(|&(from, to)| from == 0 && to == LAST_MINUTE) {
            problem.cooks.clear();
            problem.shifts = freed(&[], &free_hands);
            for_modes(&mut problem, |_, mode| mode.who = None);
        }
    } else if !free_hands.is_empty() {
        problem.shifts = freed(&problem.shifts, &free_hands);
    }
    problem
}

fn for_modes(problem: &mut Problem, mut change: impl FnMut(&str, &mut Mode)) {
    for step in &mut problem.steps {
        for mode in &mut step.modes {
            change(&step.id, mode);
        }
    }
}

fn give_up_pool(problem: &mut Problem, pool: &str) {
    for_modes(problem, |_, mode| {
        mode.pools.remove(pool);
    });
    let sinks = problem.courses.iter_mut().flat_map(|course| &mut course.sinks).map(|sink| &mut sink.pools);
    for pools in problem.links.iter_mut().map(|link| &mut link.pools).chain(sinks) {
        pools.remove(pool);
    }
}

/// Drops the steps of a dish, and then every step that reaches no sink any more.
fn drop_dish(problem: &mut Problem, dish: &str) {
    problem.steps.retain(|step| step.dish != dish);
    loop {
        let steps: BTreeSet<String> = problem.steps.iter().map(|step| step.id.clone()).collect();
        problem.links.retain(|link| steps.contains(&link.from) && steps.contains(&link.to));
        for course in &mut problem.courses {
            course.sinks.retain(|sink| steps.contains(&sink.step));
        }
        let useful: BTreeSet<&str> = problem
            .links
            .iter()
            .map(|link| link.from.as_str())
            .chain(problem.courses.iter().flat_map(|course| course.sinks.iter().map(|sink| sink.step.as_str())))
            .collect();
        let useless: BTreeSet<String> = steps.iter().filter(|step| !useful.contains(step.as_str())).cloned().collect();
        if useless.is_empty() {
            return;
        }
        problem.steps.retain(|step| !useless.contains(&step.id));
    }
}

fn give_up_course(problem: &mut Problem, id: &str, fact: &Fact) {
    for course in problem.courses.iter_mut().filter(|course| course.id == id) {
        match fact {
            Fact::Serving { .. } => {
                let room = LAST_MINUTE - course.serve;
                course.max_slip = (course.max_slip + LONG).min(room).max(course.max_slip);
            }
            Fact::Together { .. } => course.together = LAST_MINUTE,
            _ => course.after = None,
        }
    }
}

fn give_up_step(problem: &mut Problem, id: &str, fact: &Fact) {
    for step in problem.steps.iter_mut().filter(|step| step.id == id) {
        match fact {
            Fact::Earliest { .. } => step.earliest = None,
            Fact::Latest { .. } => step.latest = None,
            Fact::Keeping { .. } => {
                for mode in &mut step.modes {
                    mode.max = (mode.max + LONG).min(LAST_MINUTE);
                }
            }
            _ => {
                for mode in &mut step.modes {
                    mode.shut = 0;
                }
            }
        }
    }
}

fn give_up_place(problem: &mut Problem, id: &str, fact: &Fact) {
    let Some(place) = problem.places.iter_mut().find(|place| place.id() == id) else { return };
    match (&mut *place, fact) {
        (Place::Cavity(cavity), Fact::Room { .. }) => {
            (cavity.width, cavity.depth, cavity.height) = (WIDE, WIDE, WIDE);
            (cavity.racks, cavity.clearance) = (20, 0);
        }
        (Place::Cavity(cavity), Fact::Changeover { .. }) => {
            (cavity.rise, cavity.fall, cavity.settle) = (10_000, 10_000, 0);
        }
        (Place::Hob(hob), _) => {
            (hob.count, hob.min_diameter, hob.max_diameter) = (MANY, 0, WIDE);
        }
        (Place::Top(top), _) => (top.width, top.depth) = (WIDE, WIDE),
        _ => {}
    }
    let place = place.clone();
    for_modes(problem, |_, mode| {
        if mode.place.as_deref() == Some(place.id()) {
            relax_mode(mode, &place, fact);
        }
    });
}

fn relax_mode(mode: &mut Mode, place: &Place, fact: &Fact) {
    match (place, fact) {
        (Place::Cavity(_), Fact::Room { .. }) => mode.pan = Some([1; 3]),
        (Place::Cavity(_), Fact::Weight { .. }) => mode.weight = Some(1),
        (Place::Cavity(cavity), Fact::Temperature { .. }) => {
            mode.t = Some([cavity.t_min.min(cavity.t_open), cavity.t_max.max(cavity.t_open)]);
        }
        (Place::Cavity(cavity), Fact::Heat { .. }) => mode.heat = cavity.heats.first().copied().or(mode.heat),
        (Place::Cavity(_), Fact::Moisture { .. }) => mode.wet = false,
        (Place::Hob(hob), _) => mode.level = Some(hob.scale),
        (Place::Top(top), _) => (mode.level, mode.diameter) = (Some(top.scale), Some(1)),
        _ => {}
    }
}

/// Shifts with as many hands as anyone asks for inside some intervals.
fn freed(shifts: &[Shift], free: &[(Minute, Minute)]) -> Vec<Shift> {
    let mut cuts: Vec<Minute> = shifts.iter().flat_map(|shift| [shift.start, shift.end]).collect();
    cuts.extend(free.iter().flat_map(|&(from, to)| [from, to]));
    cuts.sort_unstable();
    cuts.dedup();
    let hands = |minute: Minute| {
        if free.iter().any(|&(from, to)| (from..to).contains(&minute)) {
            return MANY;
        }
        shifts.iter().find(|shift| (shift.start..shift.end).contains(&minute)).map_or(0, |shift| shift.hands)
    };
    let pieces = cuts.windows(2).map(|cut| Shift { start: cut[0], end: cut[1], hands: hands(cut[0]) });
    pieces.filter(|shift| shift.hands > 0).collect()
}

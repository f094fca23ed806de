//! Does a schedule do what its plan says, and could it be done?
//!
//! Each question is asked by a small function of its own that shares nothing with the making of schedules: not
//! even the rise and fall of the air, which everything else asks of [`oven`](crate::oven).

mod cavity;
mod fault;
mod hands;
mod stove;

use std::collections::BTreeMap;

pub use fault::Unsound;

use super::crew::Crew;
use super::data::Schedule;
use crate::plan::{Plan, PlannedStep};
use crate::problem::{Minute, Mode, Place, Problem, Step};

/// Checks a schedule of nameless cooks; names everything that does not hold.
pub fn check(problem: &Problem, plan: &Plan, day: &Schedule) -> Vec<Unsound> {
    check_with(problem, plan, &Crew::of(problem), day)
}

/// As [`check`], for a schedule made with [`schedule_with`](super::schedule_with).
pub fn check_with(problem: &Problem, plan: &Plan, crew: &Crew, day: &Schedule) -> Vec<Unsound> {
    let book = Book::new(problem, plan);
    let missing = problem.steps.iter().filter(|step| !book.entries.contains_key(step.id.as_str()));
    let mut faults: Vec<Unsound> = missing.map(|step| Unsound::NotPlanned { step: step.id.clone() }).collect();
    hands::every_piece_has_its_hands(&book, day, &mut faults);
    hands::no_cook_does_two_things(&book, day, &mut faults);
    hands::every_cook_is_there(crew, day, &mut faults);
    hands::courses_go_out(problem, plan, day, &mut faults);
    for place in &problem.places {
        match place {
            Place::Cavity(cavity) => cavity::check(&book, cavity, day, &mut faults),
            Place::Hob(hob) => stove::one_pan_each(&book, hob, day, &mut faults),
            Place::Top(top) => stove::side_by_side(&book, top, day, &mut faults),
        }
    }
    faults
}

/// Beyond any legal minute.
const FAR: Minute = 1_000_000;

/// What the plan says of each step.
struct Book<'a> {
    problem: &'a Problem,
    entries: BTreeMap<&'a str, Entry<'a>>,
}

#[derive(Clone, Copy)]
struct Entry<'a> {
    step: &'a Step,
    mode: &'a Mode,
    planned: &'a PlannedStep,
}

impl<'a> Book<'a> {
    fn new(problem: &'a Problem, plan: &'a Plan) -> Self {
        let entry = |step: &'a Step| {
            let planned = plan.steps.get(&step.id)?;
            if planned.start > planned.end || planned.start < -FAR || planned.end > FAR {
                return None;
            }
            Some((step.id.as_str(), Entry { step, mode: step.modes.get(planned.mode)?, planned }))
        };
        Book { problem, entries: problem.steps.iter().filter_map(entry).collect() }
    }

    fn at(&self, place: &str) -> Vec<Entry<'a>> {
        self.entries.values().filter(|entry| entry.mode.place.as_deref() == Some(place)).copied().collect()
    }

    /// The step from which this one's pan has stayed in.
    fn stays_from(&self, step: &str) -> Option<Entry<'a>> {
        let link = self.problem.links.iter().find(|link| link.stay && link.to == step)?;
        self.entries.get(link.from.as_str()).copied()
    }
}

/// Says so unless the stretches, put in order, cover `[from, until)` without gap or overlap.
fn covers(mut stretches: Vec<[i64; 2]>, from: i64, until: i64) -> bool {
    stretches.sort_unstable();
    let mut at = from;
    for [start, end] in stretches {
        if start != at {
            return false;
        }
        at = end;
    }
    at == until
}

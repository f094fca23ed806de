//! Food as time and temperature: for each step of each dish between which temperatures it may be, from raw to served.
//!
//! Bounds are honest, not likely: food that stands may be as warm as it was or as cool as the room at once, for nobody knows
//! how small the smallest portion is. Only what is chilled, held or heated is known better.

mod course;
mod spell;
mod words;

use std::collections::BTreeMap;

use super::Rules;
use crate::labels::{DishLabel, Facts, Labels, ModeLabel, STAND_BY, StepLabel};
use crate::menu::Kind;
use crate::plan::Plan;
use crate::problem::{Minute, Mode, Problem, Step};

pub(super) use words::says;

/// Boiling water, degrees C.
const BOIL: f64 = 100.0;

/// Why food is between these temperatures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// The menu says so.
    Known,
    /// It is heated.
    Heated,
    /// It cools in the cold.
    Cooling,
    /// It stands in the room.
    Standing,
    /// It is kept hot.
    Held,
    /// It is cold.
    Chilled,
}

/// Minutes in which food is between two temperatures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// First minute.
    pub from: Minute,
    /// The minute after the last.
    pub until: Minute,
    /// Degrees C, at the least.
    pub low_c: f64,
    /// Degrees C, at the most.
    pub high_c: f64,
    /// Why.
    pub how: How,
}

/// A step of a plan, with what its food is and what becomes of it until the next step or the table.
pub struct Spell<'a> {
    /// The step.
    pub step: &'a Step,
    /// Its words.
    pub label: &'a StepLabel,
    /// What it does.
    pub facts: &'a Facts,
    /// Its dish.
    pub dish: &'a DishLabel,
    /// The way chosen.
    pub mode: &'a Mode,
    /// The words of that way.
    pub words: &'a ModeLabel,
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
    /// The steps before it, as indices.
    pub before: Vec<usize>,
    /// Its food in the step and while it waits afterwards, in order of time.
    pub course: Vec<Stretch>,
    /// Minutes between the limits when it begins, counted from the last heat.
    pub arrived: Minute,
    /// The most of these minutes that it comes to by the next step or the table.
    pub stood: Minute,
    /// The same by the end of the step.
    pub by_end: Minute,
    /// When it is eaten, if it is the last of its dish.
    pub served: Option<Minute>,
}

/// An evening as hazards see it.
pub struct Night<'a> {
    /// What is planned.
    pub problem: &'a Problem,
    /// Its words.
    pub labels: &'a Labels,
    /// What it is judged by.
    pub rules: Rules,
    /// Every step that is planned, in order of time.
    pub spells: Vec<Spell<'a>>,
}

impl<'a> Night<'a> {
    /// The evening of a plan; steps that it does not have are left out.
    pub fn new(problem: &'a Problem, labels: &'a Labels, plan: &Plan) -> Night<'a> {
        let rules = Rules { region: labels.region, premises: labels.premises };
        let mut order: Vec<_> =
            problem.steps.iter().filter_map(|step| Some((step, plan.steps.get(&step.id)?))).collect();
        order.sort_by_key(|(step, planned)| (planned.end, planned.start, &step.id));
        let mut night = Night { problem, labels, rules, spells: Vec::new() };
        let mut at: BTreeMap<&str, usize> = BTreeMap::new();
        for (step, planned) in order {
            let Some(label) = labels.steps.get(&step.id) else { continue };
            if label.kind == Kind::Other(STAND_BY.to_owned()) {
                continue;
            }
            let (Some(dish), Some(mode)) = (labels.dishes.get(&step.dish), step.modes.get(planned.mode)) else {
                continue;
            };
            let Some(words) = label.modes.get(planned.mode) else { continue };
            let before =
                problem.links.iter().filter(|link| link.to == step.id).filter_map(|link| at.get(link.from.as_str()));
            let sinks = problem.courses.iter().filter(|course| course.sinks.iter().any(|sink| sink.step == step.id));
            let spell = Spell {
                step,
                label,
                facts: &label.facts,
                dish,
                mode,
                words,
                start: planned.start,
                end: planned.end,
                before: before.copied().collect(),
                course: Vec::new(),
                arrived: 0,
                stood: 0,
                by_end: 0,
                served: sinks.filter_map(|course| plan.served.get(&course.id)).max().copied(),
            };
            at.insert(&step.id, night.spells.len());
            night.spells.push(spell);
        }
        for index in 0..night.spells.len() {
            night.live(index);
        }
        night
    }

    /// Every spell of a dish, in order of time.
    pub fn of_dish<'n>(&'n self, dish: &'n str) -> impl Iterator<Item = &'n Spell<'a>> {
        self.spells.iter().filter(move |spell| spell.step.dish == dish)
    }

    /// A clock time.
    pub fn clock(&self, minute: Minute) -> String {
        self.labels.calendar.moment(minute).strftime("%H:%M").to_string()
    }
}

//! What could hurt somebody, as data: each hazard with what it looks at, its limit, its source, its verdict and what mends it.
//!
//! A hazard reads a [`Night`]: for each step of each dish what the food is and between which temperatures it may be at every
//! minute. It never depends on whether a menu says `contains`: what food is, is [known without being told](crate::larder).
//! To add one, write one file in `hazard/known` and name it in [`ALL`]. The page of them all is `hazards.md` beside this file.

mod facts;
mod known;
mod latest;
mod night;
mod page;
mod rules;
#[cfg(test)]
mod tests;

use crate::cook::Source;
use crate::cook::safety::{Caution, Topic, Weight};
use crate::labels::{Facts, Labels};
use crate::plan::Plan;
use crate::problem::{Mode, Problem};

pub use known::ALL;
pub use night::{How, Night, Spell, Stretch};
pub use page::page;
pub use rules::Rules;

pub(crate) use facts::{facts, warms};
pub(crate) use known::{days_kept, glows, handles_raw, least_core as least};

/// Something that could hurt somebody.
#[derive(Clone, Copy)]
pub struct Hazard {
    /// Its short name, in words joined by hyphens.
    pub code: &'static str,
    /// What it is, in a sentence.
    pub what: &'static str,
    /// What the caution is filed under.
    pub topic: Topic,
    /// What it looks at.
    pub looks_at: &'static str,
    /// Its verdict, and where that differs from place to place.
    pub verdict: &'static str,
    /// What mends it.
    pub remedy: &'static str,
    /// Where its limit comes from under these rules.
    pub source: fn(&Rules) -> Source,
    /// Looks for it.
    pub find: fn(&Night<'_>) -> Vec<Finding>,
}

/// A hazard that was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// How much it matters.
    pub weight: Weight,
    /// What is wrong, and what mends it.
    pub text: String,
    /// The ids of the steps, the one where it bites first.
    pub steps: Vec<String>,
}

impl Finding {
    fn new(weight: Weight, text: impl Into<String>, steps: &[&Spell<'_>]) -> Finding {
        Finding { weight, text: text.into(), steps: steps.iter().map(|spell| spell.step.id.clone()).collect() }
    }
}

/// Every hazard of a plan, with its steps.
pub fn of_plan(problem: &Problem, labels: &Labels, plan: &Plan) -> Vec<(Caution, Vec<String>)> {
    of_night(&Night::new(problem, labels, plan))
}

/// The hazards that no plan of this menu can avoid: found in the evening in which everything is done as late as it can be.
///
/// Where even that evening is impossible, links that may not stretch are stretched: what is then found is at least as bad in
/// any other evening.
pub fn of_menu(problem: &Problem, labels: &Labels) -> Vec<(Caution, Vec<String>)> {
    let plan = latest::plan(problem, labels);
    let night = Night::new(problem, labels, &plan);
    let mut found = of_night(&night);
    for spell in &night.spells {
        for caution in spell.own_cautions().filter(|caution| caution.weight == Weight::Breach) {
            found.push((caution.clone(), vec![spell.step.id.clone()]));
        }
    }
    found.sort_by(|one, other| {
        (std::cmp::Reverse(one.0.weight), &one.0).cmp(&(std::cmp::Reverse(other.0.weight), &other.0))
    });
    found.dedup();
    found
}

/// The limits that a menu breaks in any case: the breaches of [`of_menu`].
pub fn broken(problem: &Problem, labels: &Labels) -> Vec<(Caution, Vec<String>)> {
    of_menu(problem, labels).into_iter().filter(|(caution, _)| caution.weight == Weight::Breach).collect()
}

fn of_night(night: &Night<'_>) -> Vec<(Caution, Vec<String>)> {
    let mut found = Vec::new();
    for hazard in ALL {
        for Finding { weight, text, steps } in (hazard.find)(night) {
            found.push((Caution::new(hazard.topic, weight, text, (hazard.source)(&night.rules)), steps));
        }
    }
    found
}

/// Whether a way of a step is colder than its food must become: a planner that has another takes that.
pub(crate) fn too_cool(mode: &Mode, facts: &Facts, contents: &crate::larder::Contents, rules: &Rules) -> bool {
    known::mode_is_too_cool(mode, facts, contents, rules)
}

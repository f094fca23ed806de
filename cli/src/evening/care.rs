//! The cautions of a plan: all of them once in a part of their own, and the gravest few where they bite.

use rangewright::models::caution::{AtStep, Caution, JOBS_A_LINE, PlanCaution, Weight, afterwards, at_steps, of_plan};
use rangewright::models::labels::Labels;
use rangewright::models::larder::Suits;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::What;

use super::jobs::{Entry, Sort};
use super::phrases::list;
use super::{CookSheet, View};
use crate::words::{Words, capital};

/// A caution with the dishes it applies to.
pub(crate) struct Care {
    pub(crate) caution: Caution,
    /// Names, in the menu's order.
    pub(crate) dishes: Vec<String>,
    /// Ids of the steps it applies to.
    pub(crate) steps: Vec<String>,
}

impl Care {
    /// What to take care of, and where: the words before the caution itself.
    pub(crate) fn head(&self) -> String {
        let broken = if self.broken() { "LIMIT BROKEN: " } else { "" };
        format!("{broken}{} ({})", capital(self.caution.topic.short()), super::phrases::list(&self.dishes))
    }

    /// Whether the plan breaks a limit: said where nobody overlooks it.
    pub(crate) fn broken(&self) -> bool {
        self.caution.weight == Weight::Breach
    }
}

/// Every caution that applies to a plan.
pub(crate) fn of(problem: &Problem, words: &Words, labels: &Labels, plan: &Plan) -> Vec<Care> {
    named(words, of_plan(problem, labels, plan))
}

fn named(words: &Words, cautions: Vec<PlanCaution>) -> Vec<Care> {
    let care = |mut own: PlanCaution| {
        own.caution.text = words.scaled(&own.caution.text);
        let mut dishes: Vec<String> = Vec::new();
        for step in &own.steps {
            let name = words.dish_of(step);
            if !dishes.iter().any(|own| own == name) {
                dishes.push(name.to_owned());
            }
        }
        Care { caution: own.caution, dishes, steps: own.steps }
    };
    cautions.into_iter().map(care).collect()
}

/// Every caution that applies to this evening; the gravest few are written beside the jobs where they bite.
pub(super) fn all(view: &View<'_>, sheets: &mut [CookSheet], entries: &mut [Entry]) -> Vec<Care> {
    let (labels, plan) = (&view.words.labels, &view.planned.plan);
    let cautions = of_plan(view.problem, labels, plan);
    let mut lines = at_steps(labels, plan, &cautions);
    lines.iter_mut().for_each(|line| line.text = view.words.scaled(&line.text));
    for sheet in sheets {
        mark(&lines, &mut sheet.days.iter_mut().flat_map(|day| &mut day.entries).collect::<Vec<_>>());
    }
    mark(&lines, &mut entries.iter_mut().collect::<Vec<_>>());
    named(view.words, cautions)
}

/// Writes the gravest lines beside their jobs: one for so many jobs, and each limit that is broken.
fn mark(lines: &[AtStep], entries: &mut [&mut Entry]) {
    let mut room = entries.len() / JOBS_A_LINE;
    for line in lines {
        let broken = line.weight == Weight::Breach;
        if room == 0 && !broken {
            continue;
        }
        if let Some(entry) = entries.iter_mut().find(|entry| begins(&entry.what, &line.step)) {
            entry.more.push(Sort::Care.line(format!("Take care: {}", line.text)));
            room = room.saturating_sub(1);
        }
    }
}

fn begins(what: &What, own: &str) -> bool {
    matches!(what, What::PutIn { step } | What::Work { step } | What::Leave { step } if step == own)
}

/// What is to be done when the last course is out.
pub(super) fn after(view: &View<'_>) -> Vec<String> {
    let (labels, words) = (&view.words.labels, view.words);
    let all = afterwards(view.problem, labels, &view.planned.plan);
    all.iter().map(|own| own.sentence(|minute| words.clock(minute), |minute| words.day(minute))).collect()
}

/// What calls for care in each dish, and its allergens, with the words that it was inferred from; then whom it concerns: the
/// dishes that guests with a diet leave.
pub(super) fn contents(view: &View<'_>) -> Vec<String> {
    let labels = &view.words.labels;
    let dishes: Vec<_> = view.problem.dishes.iter().filter_map(|dish| labels.dishes.get(&dish.id)).collect();
    let contents = dishes.iter().filter_map(|dish| Some(format!("{}: {}", dish.name, dish.contents.told()?)));
    let diets = labels.diets.iter().enumerate().filter_map(|(number, diet)| {
        let left = |suits: Option<&Suits>| matches!(suits, Some(Suits::Has(_) | Suits::MadeWith(_)));
        let left = dishes.iter().filter(|dish| left(dish.suits.get(number)));
        let names: Vec<&str> = left.map(|dish| dish.name.as_str()).collect();
        (!names.is_empty()).then(|| format!("Not for {}: {}", diet.whom(), list(&names)))
    });
    contents.chain(diets).collect()
}

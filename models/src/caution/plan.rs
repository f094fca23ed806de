//! The cautions of a plan: those of its steps in the modes chosen, and what follows from what is done beside what.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{Caution, Topic, Weight, standing, usual};
use crate::cook::safety::Rawness;
use crate::kitchen::SHELF;
use crate::labels::Labels;
use crate::menu::slug;
use crate::plan::{Plan, PlannedStep};
use crate::problem::{Minute, Problem, Step};

/// Minutes between raw poultry and what is eaten raw at one counter that are taken to be time enough for washing down (our
/// assumption).
const WASHING: Minute = 10;
/// A pool of more than so many is nothing that is washed: watts.
const MOST_TOOLS: i64 = 20;

/// A caution, and the steps it applies to.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct PlanCaution {
    /// The caution.
    #[serde(flatten)]
    pub caution: Caution,
    /// The ids of the steps, in the problem's order.
    pub steps: Vec<String>,
}

/// Every caution of a plan, limits that are broken first, then by topic. Equal ones are one, with all their steps.
///
/// Raw poultry beside what is eaten raw is looked for at the counter, within ten minutes; with a tool of which there are
/// only so many it breaks the limit. Allergens are those that the dishes say, wherever such a tool or pan is shared, or an
/// oven at the same time. Minutes between the cold and the hot limit add up from the heat to the table.
pub fn of_plan(problem: &Problem, labels: &Labels, plan: &Plan) -> Vec<PlanCaution> {
    let mut found: BTreeMap<Caution, Vec<String>> = BTreeMap::new();
    let uses: Vec<Use<'_>> = problem.steps.iter().filter_map(|step| Use::of(step, problem, labels, plan)).collect();
    for own in &uses {
        for caution in &own.cautions {
            found.entry((*caution).clone()).or_default().push(own.step.id.clone());
        }
    }
    for (index, first) in uses.iter().enumerate() {
        for second in &uses[index + 1..] {
            for caution in [poultry(first, second, labels), poultry(second, first, labels)].into_iter().flatten() {
                found.entry(caution).or_default().extend([first.step.id.clone(), second.step.id.clone()]);
            }
        }
    }
    let all = standing::cautions(problem, labels, plan).into_iter().chain(allergens(&uses, labels));
    for (caution, steps) in all {
        found.entry(caution).or_default().extend(steps);
    }
    let mut cautions: Vec<PlanCaution> =
        found.into_iter().map(|(caution, steps)| PlanCaution { caution, steps }).collect();
    cautions.sort_by_key(|own| (std::cmp::Reverse(own.caution.weight), own.caution.topic));
    cautions
}

/// A step as it is planned, with what matters here.
struct Use<'a> {
    step: &'a Step,
    planned: &'a PlannedStep,
    rawness: Rawness,
    allergens: &'a [String],
    cautions: Vec<&'a Caution>,
    /// Tools and pans of which there are only so many; and its oven, which is shared only at the same time.
    tools: Vec<(String, bool)>,
}

impl<'a> Use<'a> {
    fn of(step: &'a Step, problem: &Problem, labels: &'a Labels, plan: &'a Plan) -> Option<Use<'a>> {
        let planned = plan.steps.get(&step.id)?;
        let (label, mode) = (labels.steps.get(&step.id)?, step.modes.get(planned.mode)?);
        let words = label.modes.get(planned.mode)?;
        let mut tools: Vec<(String, bool)> = Vec::new();
        for (pool, _) in mode.pools.iter().filter(|(_, taken)| **taken > 0) {
            if *pool != slug(SHELF) && problem.pools.get(pool).is_some_and(|&there| there <= MOST_TOOLS) {
                tools.push((labels.pools.get(pool).cloned().unwrap_or_else(|| pool.clone()), false));
            }
        }
        let place = mode.place.as_ref().filter(|_| mode.t.is_some());
        tools.extend(place.map(|id| (labels.places.get(id).map_or(id.clone(), |own| own.name.clone()), true)));
        tools.sort();
        tools.dedup();
        Some(Use {
            step,
            planned,
            rawness: label.rawness,
            allergens: labels.dishes.get(&step.dish).map_or(&[], |dish| &dish.allergens),
            cautions: label.cautions.iter().chain(&words.cautions).collect(),
            tools,
        })
    }

    /// Minutes from the end of this use to the start of another; negative if they overlap.
    fn until(&self, other: &Use<'_>) -> Minute {
        other.planned.start - self.planned.end
    }

    fn dish(&self, labels: &Labels) -> String {
        labels.dishes.get(&self.step.dish).map_or_else(|| self.step.dish.clone(), |dish| dish.name.clone())
    }
}

/// Raw poultry, and what is eaten raw not long after it or at the same time.
fn poultry(raw: &Use<'_>, eaten: &Use<'_>, labels: &Labels) -> Option<Caution> {
    let meet = raw.rawness == Rawness::RawPoultry && eaten.rawness == Rawness::EatenRaw;
    if !meet || raw.step.dish == eaten.step.dish || eaten.planned.end <= raw.planned.start {
        return None;
    }
    let gap = raw.until(eaten);
    if gap >= WASHING {
        return None;
    }
    let shared = raw.tools.iter().find(|(tool, at_once)| !at_once && eaten.tools.iter().any(|(own, _)| own == tool));
    let when = if gap < 0 { "at the same time".to_owned() } else { format!("{gap} min later") };
    let (weight, at) = match shared {
        Some((tool, _)) => (Weight::Breach, format!("with the same {tool}")),
        None => (Weight::Caution, "at the counter".to_owned()),
    };
    let text = format!(
        "{} is raw poultry, and {} is eaten raw {at} {when}: another board and knife, wash hands and surfaces in between",
        raw.dish(labels),
        eaten.dish(labels)
    );
    Some(Caution::new(Topic::RawPoultry, weight, text, usual(Topic::RawPoultry, labels.region).source))
}

/// For each dish with an allergen, the dishes without it that share a tool later, or an oven at the same time.
fn allergens(uses: &[Use<'_>], labels: &Labels) -> Vec<(Caution, Vec<String>)> {
    let mut shared: BTreeMap<(usize, String, String), Vec<(String, String)>> = BTreeMap::new();
    for (index, first) in uses.iter().enumerate().filter(|(_, own)| !own.allergens.is_empty()) {
        for second in uses.iter().filter(|own| own.step.dish != first.step.dish) {
            let new: Vec<&str> = (first.allergens.iter().map(String::as_str))
                .filter(|own| !second.allergens.iter().any(|other| other == own))
                .collect();
            let later = second.planned.end > first.planned.start;
            let meet = first.until(second) < 0 && second.until(first) < 0;
            let tool = first.tools.iter().find(|(tool, at_once)| {
                (if *at_once { meet } else { later }) && second.tools.iter().any(|(own, _)| own == tool)
            });
            let Some((tool, _)) = tool.filter(|_| !new.is_empty()) else { continue };
            // One line for each dish and tool, however many steps of it there are.
            let first_step = uses.iter().position(|own| own.step.dish == first.step.dish).unwrap_or(index);
            let with = shared.entry((first_step, tool.clone(), new.join(", "))).or_default();
            if !with.iter().any(|(_, dish)| *dish == second.dish(labels)) {
                with.push((second.step.id.clone(), second.dish(labels)));
            }
        }
    }
    let source = usual(Topic::Allergen, labels.region).source;
    let line = |((first, tool, what), with): ((usize, String, String), Vec<(String, String)>)| {
        let (steps, dishes): (Vec<String>, Vec<String>) = with.into_iter().unzip();
        let text = format!(
            "{} has {what} and shares the {tool} with {}: wash it in between, and tell your guests",
            uses[first].dish(labels),
            dishes.join(", ")
        );
        (Caution::new(Topic::Allergen, Weight::Caution, text, source), steps)
    };
    shared.into_iter().map(line).collect()
}

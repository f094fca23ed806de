//! The cautions of a plan, in one place.

use rangewright::models::caution::{Caution, Weight, of_plan};
use rangewright::models::labels::Labels;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;

use super::View;
use crate::words::{Words, capital};

/// A caution with the dishes it applies to.
pub(crate) struct Care {
    pub(crate) caution: Caution,
    /// Names, in the menu's order.
    pub(crate) dishes: Vec<String>,
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
    let care = |own: rangewright::models::caution::PlanCaution| {
        let mut dishes: Vec<String> = Vec::new();
        for step in &own.steps {
            let name = words.dish_of(step);
            if !dishes.iter().any(|own| own == name) {
                dishes.push(name.to_owned());
            }
        }
        Care { caution: own.caution, dishes }
    };
    of_plan(problem, labels, plan).into_iter().map(care).collect()
}

/// Every caution that applies to this evening.
pub(super) fn all(view: &View<'_>) -> Vec<Care> {
    of(view.problem, view.words, &view.words.labels, &view.planned.plan)
}

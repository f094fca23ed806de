//! The cautions of a plan, in one place.

use rangewright::models::caution::{Caution, Weight, of_plan};

use super::View;
use crate::words::capital;

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
        format!("{broken}{} ({})", capital(self.caution.topic.short()), self.dishes.join(", "))
    }

    /// Whether the plan breaks a limit: said where nobody overlooks it.
    pub(crate) fn broken(&self) -> bool {
        self.caution.weight == Weight::Breach
    }
}

/// Every caution that applies to this evening.
pub(super) fn all(view: &View<'_>) -> Vec<Care> {
    let care = |own: rangewright::models::caution::PlanCaution| {
        let mut dishes: Vec<String> = Vec::new();
        for step in &own.steps {
            let name = view.words.dish_of(step);
            if !dishes.iter().any(|own| own == name) {
                dishes.push(name.to_owned());
            }
        }
        Care { caution: own.caution, dishes }
    };
    of_plan(view.problem, &view.words.labels, &view.planned.plan).into_iter().map(care).collect()
}

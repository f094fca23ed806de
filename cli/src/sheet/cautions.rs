//! The cautions of a plan, in one place.

use rangewright::models::caution::{DEFERENCE, PlanCaution, Weight, of_plan};

use super::{Page, View};
use crate::words::capital;

/// Limits that the plan breaks, where nobody overlooks them.
pub(super) fn breaches(view: &View<'_>, page: &mut Page) {
    let all = of_plan(view.problem, &view.words.labels, &view.planned.plan);
    for own in all.iter().filter(|own| own.caution.weight == Weight::Breach) {
        page.gap();
        let (text, source) = (&own.caution.text, own.caution.source.cited());
        page.line(&format!("! LIMIT BROKEN ({}): {text} [{source}]", dishes(view, own)));
    }
}

pub(super) fn write(view: &View<'_>, page: &mut Page) {
    page.heading("Take care");
    for own in of_plan(view.problem, &view.words.labels, &view.planned.plan) {
        let broken = if own.caution.weight == Weight::Breach { "LIMIT BROKEN: " } else { "" };
        page.point(&format!(
            "{broken}{} ({}): {} [{}]",
            capital(own.caution.topic.short()),
            dishes(view, &own),
            own.caution.text,
            own.caution.source.cited()
        ));
    }
    page.point(DEFERENCE);
}

/// The dishes a caution applies to, in the menu's order.
fn dishes(view: &View<'_>, own: &PlanCaution) -> String {
    let mut names: Vec<&str> = Vec::new();
    for step in &own.steps {
        let name = view.words.dish_of(step);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.join(", ")
}

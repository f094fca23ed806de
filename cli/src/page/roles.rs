//! Who does what: for learners who begin together.

use maud::{Markup, html};

use super::{name, names};
use crate::evening::{CookSheet, Evening, View};

pub(super) fn section(view: &View<'_>, evening: &Evening<'_>) -> Markup {
    html! {
        section id="roles" aria-labelledby="roles-head" {
            h2 id="roles-head" { "Who does what" }
            dl {
                @for sheet in &evening.sheets {
                    dt { (name(&sheet.name)) }
                    dd { (names(&dishes(view, sheet))) }
                }
            }
        }
    }
}

/// The dishes that a cook has a hand in, in the order of their first jobs.
fn dishes(view: &View<'_>, sheet: &CookSheet) -> Vec<String> {
    let mut dishes: Vec<String> = Vec::new();
    for entry in sheet.days.iter().flat_map(|day| &day.entries).filter(|entry| entry.what.busy()) {
        let Some(step) = entry.what.step() else { continue };
        let dish = view.words.dish_of(step).to_owned();
        if !dishes.contains(&dish) {
            dishes.push(dish);
        }
    }
    dishes
}

//! The usual cautions, in one place.

use std::collections::BTreeMap;

use rangewright::models::caution::{Caution, DEFERENCE};

use super::{Page, View};

pub(super) fn write(view: &View<'_>, page: &mut Page) {
    page.heading("Take care");
    // Each caution with the dishes it applies to, in the menu's order.
    let mut found: BTreeMap<Caution, Vec<&str>> = BTreeMap::new();
    for step in &view.problem.steps {
        for caution in view.words.cautions(&step.id) {
            let dishes = found.entry(*caution).or_default();
            let name = view.words.dish_of(&step.id);
            if !dishes.contains(&name) {
                dishes.push(name);
            }
        }
    }
    for (caution, dishes) in found {
        page.point(&format!(
            "{} ({}): {} [{}]",
            crate::words::capital(short(caution)),
            dishes.join(", "),
            caution.text(),
            caution.source()
        ));
    }
    page.point(DEFERENCE);
}

/// A caution in a few words.
pub(super) fn short(caution: Caution) -> &'static str {
    match caution {
        Caution::Undercooked => "cook it through",
        Caution::SlowCooling => "cool it fast",
        Caution::Holding => "keep it hot or keep it cold",
        Caution::Reheating => "heat it right through",
        Caution::LowOven => "low oven",
        Caution::HotFat => "hot fat",
        Caution::Steam => "steam",
        _ => "see below",
    }
}

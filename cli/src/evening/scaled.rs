//! Dishes that are made for more or fewer than they are written for: nothing is scaled in silence.

use super::View;
use crate::words::capital;

/// What stands before the list.
pub(crate) const SCALED: &str = "Scaled by rules of the trade, which have no source and know nothing of this dish: taste, look and probe. Numbers within \
     the words of a dish stay as they are written.";

/// A dish, and what is other than written.
pub(crate) struct Scaled {
    /// `Gratin: written for 14 portions, made for 60`.
    pub(crate) head: String,
    /// `Bake the gratins: 5 pans of 5.3 kg, not 1 pan of 6 kg`.
    pub(crate) lines: Vec<String>,
}

/// Every such dish, in the order of the menu.
pub(crate) fn scaled(view: &View<'_>) -> Vec<Scaled> {
    let labels = &view.words.labels;
    let dish = |dish: &rangewright::models::problem::Dish| {
        let label = labels.dishes.get(&dish.id)?;
        let own = label.scaled.as_ref()?;
        let line = |change: &rangewright::models::scale::Change| {
            format!("{}: {}, not {}", capital(&change.what), change.made, change.written)
        };
        Some(Scaled { head: format!("{}: {}", label.name, own.said()), lines: own.changes.iter().map(line).collect() })
    };
    view.problem.dishes.iter().filter_map(dish).collect()
}

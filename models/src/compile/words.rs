//! Titles of steps where the menu gives none.

use crate::blocks::Defaults;
use crate::menu::{Dish, Kind, Step};

/// The job in a cook's words.
pub(super) fn title(step: &Step, dish: &Dish, defaults: &Defaults) -> String {
    if let Some(title) = &step.title {
        return title.clone();
    }
    let dish = mid_sentence(&dish.name);
    match &step.kind {
        Kind::Other(word) => format!("{}: {dish}", capital(word)),
        _ => defaults.title.replace("{}", &format!("the {dish}")).replace("the the ", "the "),
    }
}

/// `Roast celeriac` as it stands in the middle of a sentence; a second capital says that the first is one of its own.
pub(super) fn mid_sentence(name: &str) -> String {
    let mut chars = name.chars();
    match (chars.next(), chars.clone().next()) {
        (Some(first), second) if !second.is_some_and(char::is_uppercase) => first.to_lowercase().chain(chars).collect(),
        _ => name.to_owned(),
    }
}

fn capital(word: &str) -> String {
    let mut chars = word.chars();
    chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
}

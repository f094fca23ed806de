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
        _ => job(defaults.title, &dish),
    }
}

/// `Roast {}` of `celeriac`: the job with the dish in it. What is in the name of the dish already is not said twice: roast
/// chickens are a job of `Roast the chickens`.
pub(super) fn job(job: &str, dish: &str) -> String {
    let verb = job.split(' ').next().unwrap_or_default().to_lowercase();
    let dish = dish.strip_prefix(&verb).and_then(|rest| rest.strip_prefix(' ')).unwrap_or(dish);
    job.replace("{}", &format!("the {dish}")).replace("the the ", "the ")
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

#[cfg(test)]
mod tests {
    use super::job;

    #[test]
    fn a_verb_is_not_said_twice() {
        assert_eq!(job("Roast {}", "roast chickens"), "Roast the chickens");
        assert_eq!(job("Roast {}", "the roast"), "Roast the roast");
        assert_eq!(job("Roast {}", "roast"), "Roast the roast");
        assert_eq!(job("Bake {}", "baked apples"), "Bake the baked apples");
    }
}

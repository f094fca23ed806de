//! Which dish a job is for: one letter and one name, the same on every sheet, chart, card, drawing and calendar.

use super::View;
use crate::words::Words;

/// The dish of a job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Mark {
    pub(crate) letter: char,
    pub(crate) dish: String,
    /// Whether the title of the job says already which dish it is.
    pub(crate) named: bool,
}

impl Mark {
    /// The mark of a step's job of such a title.
    pub(crate) fn of(view: &View<'_>, step: &str, title: &str) -> Option<Self> {
        let own = view.problem.steps.iter().find(|own| own.id == step)?;
        let dish = view.words.dish(&own.dish).to_owned();
        Some(Mark { letter: letter(view, step), named: names(view.words, title, &own.dish), dish })
    }
}

/// A letter for each dish, in the order of the menu.
pub(crate) fn letters<'a>(view: &View<'a>) -> Vec<(&'a str, char)> {
    let alphabet = ('A'..='Z').chain('a'..='z').chain('0'..='9').chain(std::iter::repeat('?'));
    view.problem.dishes.iter().map(|dish| dish.id.as_str()).zip(alphabet).collect()
}

/// The letter of a step's dish.
pub(crate) fn letter(view: &View<'_>, step: &str) -> char {
    let own = view.problem.steps.iter().find(|own| own.id == step);
    let letters = letters(view);
    own.and_then(|own| letters.iter().find(|(dish, _)| *dish == own.dish)).map_or('?', |(_, letter)| *letter)
}

/// A job in the words of its step, with its dish where they do not say it: `Roast potatoes: Parboil`.
pub(crate) fn job(words: &Words, step: &str) -> String {
    let title = words.title(step);
    match words.step(step) {
        Some(own) if !names(words, title, &own.dish) => format!("{}: {title}", words.dish_of(step)),
        _ => title.to_owned(),
    }
}

/// Whether a title says which dish it is: it has more than half of the name's words or the last of them, the one that
/// says what it is; and more of them than of any other dish's name.
fn names(words_of: &Words, title: &str, dish: &str) -> bool {
    let said = words(title);
    // In twelfths, so that shares of different names compare as whole numbers.
    let share = |name: &str| {
        let own = words(name);
        let found = own.iter().filter(|word| said.contains(word)).count();
        (found * 12).checked_div(own.len()).unwrap_or(0)
    };
    let name = words_of.dish(dish);
    let last = words(name).last().is_some_and(|word| said.contains(word));
    let own = share(name);
    let mut others = words_of.labels.dishes.keys().filter(|other| *other != dish);
    (last || own > 6) && others.all(|other| share(words_of.dish(other)) < own)
}

/// The words of a text that tell things apart, in the singular as far as an s makes the plural.
fn words(text: &str) -> Vec<String> {
    let all = text.split(|letter: char| !letter.is_alphanumeric()).map(str::to_lowercase);
    let small = |word: &String| {
        word.is_empty() || matches!(word.as_str(), "the" | "a" | "an" | "and" | "in" | "of" | "with" | "on" | "for")
    };
    all.filter(|word| !small(word)).map(|word| word.strip_suffix('s').unwrap_or(&word).to_owned()).collect()
}

//! The limits of food safety that a menu breaks in every plan: said before any other answer to a question about it.

use rangewright::models::caution::Caution;
use rangewright::models::hazard::broken;
use rangewright::models::problem::Problem;

use super::page::Page;
use crate::words::Words;

/// A line for each of them.
pub(super) fn said_first(page: &mut Page, problem: &Problem, words: &Words) {
    broken_but(page, problem, words, |_, _| false);
}

/// A line for each of them but those that are left out, by their cautions and the steps that they concern.
pub(super) fn broken_but(
    page: &mut Page,
    problem: &Problem,
    words: &Words,
    left_out: impl Fn(&Caution, &[String]) -> bool,
) {
    for (caution, steps) in broken(problem, &words.labels).into_iter().filter(|(own, steps)| !left_out(own, steps)) {
        let dish = steps.first().map_or("", |step| words.dish_of(step));
        let text = words.scaled(&caution.text);
        page.line(&format!("! LIMIT BROKEN: {dish}: {text} [{}]", caution.source.cited()));
    }
}

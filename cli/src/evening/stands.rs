//! Where food stands between two jobs, and from where it is fetched.

use rangewright::models::labels::STAND_BY;
use rangewright::models::menu::{Kind, Stand};
use rangewright::models::problem::Minute;
use serde::Serialize;

use super::View;
use super::jobs::{Line, Sort};
use super::phrases::{Planned, planned};

/// Food that waits for less is where it is, minutes.
const WORTH_A_PLACE: Minute = 10;
/// For less than this nobody puts anything in the refrigerator that was not chilled (common practice, no source).
const WORTH_THE_COLD: Minute = 30;
/// The kind of a step in which food stands in a tin that nobody else may take.
const IN_ITS_TIN: &str = "stand";

/// Food that stands somewhere for a while.
#[derive(Serialize)]
pub(crate) struct Stands<'a> {
    /// The step it has come from.
    step: &'a str,
    from: Minute,
    until: Minute,
    #[serde(rename = "where")]
    place: Stand,
}

/// Wherever food stands for a while, other than on the counter where nobody has said so.
pub(crate) fn all<'a>(view: &View<'a>) -> Vec<Stands<'a>> {
    let own = view.problem.steps.iter().filter_map(|step| planned(view, &step.id));
    own.filter(|own| !is(view, &own.step.id, IN_ITS_TIN)).filter_map(|own| standing(view, own)).collect()
}

/// Where the food goes when a step is done, and until when; nothing where it goes on at once, or is on the counter anyway.
pub(super) fn put_away(view: &View<'_>, own: Planned<'_>) -> Option<Line> {
    let Stands { from, until, place, .. } = standing(view, own).filter(|_| !is(view, &own.step.id, IN_ITS_TIN))?;
    let stays = if place == Stand::Refrigerator && is_cold(view, &own.step.id) { "It stays" } else { "Then" };
    Some(Sort::Note.line(format!("{stays} {} until {}", place.said(), view.words.clock_from(from, until))))
}

/// From where the food of a step is fetched first, if that is not beside the cook.
pub(super) fn fetched(view: &View<'_>, own: Planned<'_>) -> Option<Line> {
    if is_cold(view, &own.step.id) || is(view, &own.step.id, STAND_BY) || is(view, &own.step.id, IN_ITS_TIN) {
        return None;
    }
    let cold = |from: &str| {
        let before = planned(view, from)?;
        let fetched = match standing(view, before) {
            Some(own) => own.place == Stand::Refrigerator,
            None => {
                let in_tin = is(view, from, IN_ITS_TIN) && before.end - before.start >= WORTH_A_PLACE;
                (in_tin || is_cold(view, from)) && place(view, from) == Some(Stand::Refrigerator)
            }
        };
        (fetched && before.step.dish == own.step.dish).then_some(())
    };
    let mut before = view.problem.links.iter().filter(|link| link.to == own.step.id && !link.stay);
    before.find_map(|link| cold(&link.from))?;
    Some(Sort::Note.line("Take it out of the refrigerator first"))
}

/// Where the food of a step stands, and how long, if that is worth a word.
fn standing<'a>(view: &View<'a>, own: Planned<'a>) -> Option<Stands<'a>> {
    let place = place(view, &own.step.id)?;
    let until = goes_on(view, own)?;
    let warm = place == Stand::Refrigerator && !is_cold(view, &own.step.id);
    let least = if warm { WORTH_THE_COLD } else { WORTH_A_PLACE };
    (until - own.end >= least).then_some(Stands { step: &own.step.id, from: own.end, until, place })
}

fn place(view: &View<'_>, step: &str) -> Option<Stand> {
    view.words.step(step)?.stands
}

fn is_cold(view: &View<'_>, step: &str) -> bool {
    view.words.step(step).is_some_and(|label| label.kind == Kind::Chill)
}

fn is(view: &View<'_>, step: &str, kind: &str) -> bool {
    view.words.step(step).is_some_and(|label| label.kind.word() == kind)
}

/// When the food of a step goes on, at the latest of what follows it: into the next step, or to the table.
fn goes_on(view: &View<'_>, own: Planned<'_>) -> Option<Minute> {
    let id = &own.step.id;
    let after = view.problem.links.iter().filter(|link| link.from == *id && !link.stay);
    let next = after.filter_map(|link| {
        let next = planned(view, &link.to)?;
        Some(if is(view, &link.to, IN_ITS_TIN) { next.end } else { next.start })
    });
    let courses = view.problem.courses.iter().filter(|course| course.sinks.iter().any(|sink| sink.step == *id));
    let served = courses.filter_map(|course| view.planned.plan.served.get(&course.id).copied());
    next.chain(served).max()
}

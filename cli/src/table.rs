//! The steps as comma-separated values (RFC 4180): one line each, for a spreadsheet.

use rangewright::models::schedule::What;

use crate::evening::View;
use crate::evening::phrases::{self, Planned, planned};
use crate::plain;
use crate::plain::TIED;

const HEAD: [&str; 17] = [
    "step",
    "dish",
    "title",
    "kind",
    "course",
    "start",
    "end",
    "start_minute",
    "end_minute",
    "minutes",
    "cooks",
    "place",
    "degrees_c",
    "rack",
    "pan",
    "look",
    "cautions",
];

/// One line for each step, in order of time.
///
/// A text that a spreadsheet would take for a formula begins with an apostrophe.
pub(crate) fn steps(view: &View<'_>, only: Option<usize>) -> String {
    let mut all: Vec<Planned<'_>> = view.problem.steps.iter().filter_map(|step| planned(view, &step.id)).collect();
    all.sort_by_key(|own| (own.start, own.end));
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let lines = all.into_iter().filter_map(|own| line(view, own, only));
    let head = HEAD.map(str::to_owned);
    for line in std::iter::once(head).chain(lines) {
        writer.write_record(&line).expect("a vector takes every byte, and all lines have the same length");
    }
    let bytes = writer.into_inner().expect("a vector takes every byte");
    String::from_utf8(bytes).expect("what is written is made of strings")
}

fn line(view: &View<'_>, own: Planned<'_>, only: Option<usize>) -> Option<[String; 17]> {
    let id = own.step.id.as_str();
    let of_step =
        view.day.jobs.iter().filter(|job| job.what.step() == Some(id) && !matches!(job.what, What::Shift { .. }));
    let mut cooks: Vec<usize> = of_step.flat_map(|job| job.cooks.iter().copied()).collect();
    cooks.sort_unstable();
    cooks.dedup();
    if only.is_some_and(|cook| !cooks.contains(&cook)) {
        return None;
    }
    let cooks: Vec<&str> = cooks.into_iter().filter_map(|cook| view.cook(cook)).collect();
    let label = view.words.step(id);
    let course = view.words.labels.dishes.get(&own.step.dish).and_then(|dish| dish.course.as_deref());
    let place = own.mode.place.as_deref();
    let cavity = view.day.cavities.iter().find(|day| Some(day.place.as_str()) == place);
    let setting = cavity.and_then(|day| phrases::setting_at(day, own.start)?.degrees);
    let spot = cavity.and_then(|day| day.spots.iter().find(|spot| spot.step == id && spot.from == own.start));
    let mut cautions: Vec<&str> = Vec::new();
    for caution in view.words.cautions(id, own.index).map(|caution| caution.topic.short()) {
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
    let moment = |minute| {
        if view.words.dated {
            view.words.labels.calendar.moment(minute).strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
        } else {
            String::new()
        }
    };
    Some([
        text(id),
        text(view.words.dish_of(id)),
        text(view.words.title(id)),
        text(&own.step.kind),
        text(course.map_or("", |course| view.words.course(course))),
        moment(own.start),
        moment(own.end),
        own.start.to_string(),
        own.end.to_string(),
        (own.end - own.start).to_string(),
        text(&cooks.join(", ")),
        text(&place.map(|place| phrases::named(view, own, place)).unwrap_or_default()),
        setting.map(|degrees| degrees.to_string()).unwrap_or_default(),
        spot.map(|spot| phrases::rack(spot.height).to_owned()).unwrap_or_default(),
        text(label.and_then(|label| label.modes.get(own.index)?.pan.as_deref()).unwrap_or_default()),
        text(label.and_then(|label| label.look.as_deref()).unwrap_or_default()),
        text(&cautions.join(", ")),
    ])
}

/// Text that no spreadsheet calculates.
fn text(text: &str) -> String {
    let text = plain::name(&text.replace(TIED, " "));
    if text.starts_with(['=', '+', '-', '@']) { format!("'{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_never_a_formula() {
        assert_eq!(text("=1+1"), "'=1+1");
        assert_eq!(text("Peas = greens"), "Peas = greens");
    }
}

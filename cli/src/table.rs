//! The steps, or the jobs, as comma-separated values (RFC 4180): one line each, for a spreadsheet.

use rangewright::models::problem::Minute;
use rangewright::models::schedule::What;

use crate::evening::phrases::{self, Planned, planned};
use crate::evening::{Entry, Evening, Sort, View};
use crate::plain;
use crate::plain::TIED;

const STEPS: [&str; 17] = [
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

const JOBS: [&str; 18] = [
    "start",
    "end",
    "start_minute",
    "end_minute",
    "minutes",
    "cooks",
    "letter",
    "dish",
    "job",
    "what",
    "place",
    "rack",
    "dial",
    "unit",
    "fan",
    "until",
    "look",
    "more",
];

/// What marks a text as UTF-8 for spreadsheets that take it for something else otherwise.
pub(crate) const BYTE_ORDER_MARK: &str = "\u{feff}";

/// One line for each job, in order of time: all that a sheet says.
pub(crate) fn jobs(view: &View<'_>, evening: &Evening<'_>) -> String {
    let wanted = |entry: &&Entry| evening.only.is_none_or(|cook| entry.cooks.contains(&cook));
    written(JOBS, evening.entries.iter().filter(wanted).map(|entry| job(view, entry)))
}

fn job(view: &View<'_>, entry: &Entry) -> [String; 18] {
    let cooks: Vec<&str> = entry.cooks.iter().filter_map(|cook| view.cook(*cook)).collect();
    let own = entry.what.step().and_then(|step| planned(view, step));
    let (place, cavity, minute) = match &entry.what {
        What::Dial { place, .. } => (view.words.place(place).to_owned(), Some(place.as_str()), entry.at),
        _ => {
            let id = own.and_then(|own| own.mode.place.as_deref());
            let place = own.zip(id).map(|(own, id)| phrases::named(view, own, id));
            (place.unwrap_or_default(), id, own.map_or(entry.at, |own| own.start))
        }
    };
    let day = view.day.cavities.iter().find(|day| Some(day.place.as_str()) == cavity);
    let setting = day.and_then(|day| Some((day, phrases::setting_at(day, minute)?)));
    let degrees = setting.and_then(|(day, setting)| Some(phrases::set_to(view, day, setting, setting.degrees?)));
    // `180 C`, and of marks `gas 4`.
    let (dial, unit) = match degrees.as_deref().and_then(|degrees| degrees.rsplit_once(TIED)) {
        Some((number, unit)) if unit.chars().all(char::is_alphabetic) => (number.to_owned(), unit.to_owned()),
        _ => (degrees.clone().unwrap_or_default(), String::new()),
    };
    let spot = day.zip(own).and_then(|(day, own)| day.spots.iter().find(|spot| spot.step == own.step.id));
    let lasts = matches!(entry.what, What::PutIn { .. } | What::Leave { .. });
    let said = |sorts: &[Sort]| {
        let lines = entry.more.iter().filter(|line| sorts.contains(&line.sort));
        lines.map(|line| line.text.as_str()).collect::<Vec<_>>().join("; ")
    };
    [
        moment(view, entry.at),
        moment(view, entry.until),
        entry.at.to_string(),
        entry.until.to_string(),
        (entry.until - entry.at).to_string(),
        text(&phrases::list(&cooks)),
        entry.letter().map(String::from).unwrap_or_default(),
        text(entry.mark.as_ref().map_or("", |mark| &mark.dish)),
        sort(&entry.what).to_owned(),
        text(&entry.head),
        text(&place),
        spot.map(|spot| phrases::rack(spot.height).to_owned()).unwrap_or_default(),
        text(&dial),
        text(&unit),
        setting.and_then(|(_, setting)| setting.heat).map(|heat| phrases::heat(heat).to_owned()).unwrap_or_default(),
        own.filter(|_| lasts).map(|own| moment(view, own.end)).unwrap_or_default(),
        text(&said(&[Sort::Look])),
        text(&said(&[Sort::Note, Sort::Care])),
    ]
}

/// What kind of job it is.
fn sort(what: &What) -> &'static str {
    match what {
        What::Serve { .. } => "serve",
        What::TakeOut { .. } => "take out",
        What::Shift { .. } => "shift",
        What::Dial { .. } => "dial",
        What::Wash { .. } => "wash",
        What::Leave { .. } => "leave",
        What::PutIn { .. } => "put in",
        What::Work { .. } => "work",
        What::Touch { .. } => "tend",
    }
}

/// One line for each step, in order of time.
///
/// A text that a spreadsheet would take for a formula begins with an apostrophe.
pub(crate) fn steps(view: &View<'_>, only: Option<usize>) -> String {
    let mut all: Vec<Planned<'_>> = view.problem.steps.iter().filter_map(|step| planned(view, &step.id)).collect();
    all.sort_by_key(|own| (own.start, own.end));
    written(STEPS, all.into_iter().filter_map(|own| line(view, own, only)))
}

fn written<const N: usize>(head: [&str; N], lines: impl Iterator<Item = [String; N]>) -> String {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    for line in std::iter::once(head.map(str::to_owned)).chain(lines) {
        writer.write_record(&line).expect("a vector takes every byte, and all lines have the same length");
    }
    let bytes = writer.into_inner().expect("a vector takes every byte");
    String::from_utf8(bytes).expect("what is written is made of strings")
}

/// Date, time and zone of a minute; nothing where days have no dates.
fn moment(view: &View<'_>, minute: Minute) -> String {
    if view.words.dated {
        view.words.labels.calendar.moment(minute).strftime("%Y-%m-%dT%H:%M:%S%:z").to_string()
    } else {
        String::new()
    }
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
    Some([
        text(id),
        text(view.words.dish_of(id)),
        text(view.words.title(id)),
        text(&own.step.kind),
        text(course.map_or("", |course| view.words.course(course))),
        moment(view, own.start),
        moment(view, own.end),
        own.start.to_string(),
        own.end.to_string(),
        (own.end - own.start).to_string(),
        text(&phrases::list(&cooks)),
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

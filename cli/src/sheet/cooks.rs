//! One sheet for each cook, in order of time.

use rangewright::models::menu::Kind;
use rangewright::models::problem::Minute;
use rangewright::models::schedule::{Job, Setting, What};

use super::phrases::{self, Planned, dial, place, planned};
use super::{Page, View};
use crate::words::{capital, minutes};

/// A step that needs no hand, no place and no care is left out if it is shorter than this.
const WORTH_A_LINE: Minute = 5;

pub(super) fn write(view: &View<'_>, page: &mut Page) {
    for (cook, name) in view.day.cooks.iter().enumerate() {
        let own: Vec<&Job> = view.day.jobs.iter().filter(|job| job.cooks.contains(&cook)).collect();
        if own.iter().all(|job| matches!(job.what, What::Serve { .. })) {
            continue;
        }
        let (mut day, mut quarter) = (String::new(), Minute::MIN);
        for job in own {
            let Some(entry) = entry(view, job) else { continue };
            let today = view.words.day(job.at);
            if today != day {
                page.heading(&format!("{name}, {today}"));
                page.gap();
                day = today;
            } else if job.at.div_euclid(15) != quarter {
                page.gap();
            }
            quarter = job.at.div_euclid(15);
            page.entry(&view.words.clock(job.at), &entry.head);
            let with: Vec<&str> =
                job.cooks.iter().filter(|&&other| other != cook).map(|&other| view.day.cooks[other].as_str()).collect();
            if job.what.busy() && !with.is_empty() {
                page.more(&format!("Together with {}", with.join(" and ")));
            }
            for line in entry.more {
                page.more(&line);
            }
        }
    }
}

/// A job in words.
struct Entry {
    head: String,
    more: Vec<String>,
}

fn entry(view: &View<'_>, job: &Job) -> Option<Entry> {
    let (head, more) = match &job.what {
        What::Dial { place, setting } => turn(view, place, *setting)?,
        What::Serve { course } => (
            format!("SERVE {}", view.words.course(course).to_uppercase()),
            vec![capital(&phrases::dishes_of(view, course))],
        ),
        What::Shift { place, step } => shift(view, place, step, job.at)?,
        What::Work { step } => {
            let own = planned(view, step)?;
            let mut more: Vec<String> = place(view, own).into_iter().collect();
            more.extend(care(view, own));
            more.extend(look(view, step));
            (timed(view.words.title(step), job), more)
        }
        What::PutIn { step } | What::Leave { step } => begin(view, job, planned(view, step)?)?,
        What::TakeOut { step } => {
            let own = planned(view, step)?;
            (
                timed(&format!("Take {} {}", view.words.dish_of(step), away(view, own)), job),
                look(view, step).into_iter().collect(),
            )
        }
        What::Touch { step, index } => {
            let own = planned(view, step)?;
            let words =
                view.words.step(step).and_then(|label| label.modes.get(own.index)?.touches.get(*index).cloned());
            let what = capital(words.as_deref().unwrap_or("tend"));
            let at = own.mode.place.as_deref().map(|id| {
                let on = if is_cavity(view, id) { "In" } else { "On" };
                format!("{on} {}", phrases::named(view, own, id))
            });
            (timed(&format!("{what}: {}", view.words.dish_of(step)), job), at.into_iter().collect())
        }
    };
    Some(Entry { head, more })
}

/// A title with the minutes its hands are busy.
fn timed(title: &str, job: &Job) -> String {
    format!("{} ({})", capital(title), minutes(job.until - job.at))
}

fn is_cavity(view: &View<'_>, place: &str) -> bool {
    view.day.cavities.iter().any(|day| day.place == place)
}

/// Where something is taken away from: `out of big oven`.
fn away(view: &View<'_>, own: Planned<'_>) -> String {
    match own.mode.place.as_deref() {
        Some(id) if is_cavity(view, id) => format!("out of {}", phrases::named(view, own, id)),
        Some(id) => format!("off {}", phrases::named(view, own, id)),
        None if view.words.step(&own.step.id).is_some_and(|label| label.kind == Kind::Chill) => {
            "out of the cold".to_owned()
        }
        None => "up".to_owned(),
    }
}

/// Something is put in its place, or left to itself.
fn begin(view: &View<'_>, job: &Job, own: Planned<'_>) -> Option<(String, Vec<String>)> {
    let step = own.step.id.as_str();
    if own.start == own.end {
        return None;
    }
    let stays_from = view.problem.links.iter().find(|link| link.stay && link.to == step).map(|link| link.from.as_str());
    let place = place(view, own);
    let idle = !job.what.busy() && own.mode.place.is_none() && own.end - own.start < WORTH_A_LINE;
    if idle && look(view, step).is_none() && care(view, own).is_empty() {
        return None;
    }
    let mut more: Vec<String> = Vec::new();
    if let Some(before) = stays_from {
        more.extend(wanted(view, before).map(|look| format!("First look for: {look}")));
    }
    more.extend(place.map(|place| if stays_from.is_some() { format!("Stays in: {place}") } else { place }));
    let length = minutes(own.end - own.start);
    let until = view.words.clock_from(own.start, own.end);
    more.push(format!("Until {until}, {length}"));
    if own.mode.shut > 0 {
        let open = view.words.clock_from(own.start, own.start + own.mode.shut);
        more.push(format!("Keep the door shut until {open}"));
    }
    more.extend(unmet(view, own));
    more.extend(care(view, own));
    // What is looked for at the end stands where it is taken out, or where it goes on in the same oven.
    let goes_on = view.problem.links.iter().any(|link| link.stay && link.from == step);
    if own.mode.unload == 0 && !goes_on {
        more.extend(look(view, step));
    }
    let title = view.words.title(step);
    let head = if job.what.busy() { timed(title, job) } else { capital(title) };
    Some((head, more))
}

fn turn(view: &View<'_>, place: &str, setting: usize) -> Option<(String, Vec<String>)> {
    let day = view.day.cavities.iter().find(|day| day.place == place)?;
    let new = day.settings.get(setting)?;
    let before: Option<&Setting> = setting.checked_sub(1).and_then(|index| day.settings.get(index));
    let name = view.words.place(place);
    let Some(degrees) = new.degrees else { return Some((format!("Switch {name} off"), Vec::new())) };
    let verb = match before.and_then(|before| before.degrees) {
        None => format!("Heat {name} to"),
        Some(old) if old < degrees => format!("Turn {name} up to"),
        Some(old) if old > degrees => format!("Turn {name} down to"),
        Some(_) => format!("Set {name} to"),
    };
    let heats = before.and_then(|before| before.degrees).is_none_or(|old| old < degrees);
    let there = view.words.clock_from(new.at, new.there);
    let more = if new.there > new.at {
        vec![format!("{} by {there}", if heats { "Hot" } else { "There" })]
    } else {
        Vec::new()
    };
    Some((format!("{verb} {}", dial(view, new)), more))
}

fn shift(view: &View<'_>, place: &str, step: &str, at: Minute) -> Option<(String, Vec<String>)> {
    let day = view.day.cavities.iter().find(|day| day.place == place)?;
    let spot = day.spots.iter().find(|spot| spot.step == step && spot.from == at)?;
    let head = format!("Shift {} in {}", view.words.dish_of(step), view.words.place(place));
    Some((head, vec![format!("To the {} rack: what comes next has no room otherwise", phrases::rack(spot.height))]))
}

/// A wish for a height that is not met.
fn unmet(view: &View<'_>, own: Planned<'_>) -> Option<String> {
    let unmet = view.day.cavities.iter().flat_map(|day| &day.unmet).find(|unmet| unmet.step == own.step.id)?;
    let wish = phrases::rack(unmet.wish);
    Some(format!("Would rather be on the {wish} rack, but the other pans leave no room there"))
}

fn look(view: &View<'_>, step: &str) -> Option<String> {
    wanted(view, step).map(|look| format!("Look for: {look}"))
}

fn wanted<'a>(view: &View<'a>, step: &str) -> Option<&'a str> {
    view.words.step(step)?.look.as_deref()
}

/// A note of the menu, and the cautions that bite at this step.
fn care(view: &View<'_>, own: Planned<'_>) -> Vec<String> {
    let note = view.words.step(&own.step.id).and_then(|label| label.note.clone());
    let mut short: Vec<&str> =
        view.words.cautions(&own.step.id, own.index).map(|caution| caution.topic.short()).collect();
    short.dedup();
    let care = (!short.is_empty()).then(|| format!("! Take care: {}", short.join(", ")));
    note.into_iter().map(|note| capital(&note)).chain(care).collect()
}

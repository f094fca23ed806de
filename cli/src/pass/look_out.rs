//! What is not as it should be: an oven that is not as hot as its dial says, a roast that comes out at another time.

use rangewright::models::day::{Day, Stage};
use rangewright::models::problem::Minute;

use crate::evening::View;
use crate::words::{capital, minutes};

/// Oven thermometers and dials differ by so many degrees C without anything being wrong (common practice, no source).
const ABOUT: i64 = 15;
/// A reading is old after so many minutes.
const OLD: Minute = 45;

/// Everything, in words.
pub(super) fn all(view: &View<'_>, day: &Day) -> Vec<String> {
    let mut said: Vec<String> = ovens(view, day).collect();
    said.extend(roasts(view, day));
    for cavity in &view.day.cavities {
        if day.broken.contains_key(&cavity.place) {
            said.push(format!("{} is broken", capital(view.words.place(&cavity.place))));
        }
    }
    let care = crate::evening::care::of(view.problem, view.words, &view.words.labels, &view.planned.plan);
    said.extend(care.iter().filter(|care| care.broken()).map(|care| format!("{}: {}", care.head(), care.caution.text)));
    said
}

/// Ovens that read otherwise than their dials, where the air ought to have got there.
fn ovens<'a>(view: &'a View<'_>, day: &'a Day) -> impl Iterator<Item = String> + 'a {
    view.day.cavities.iter().filter_map(|cavity| {
        let &(at, reads) = day.readings.get(&cavity.place)?;
        let setting = cavity.settings.iter().rfind(|setting| setting.there <= at)?;
        let set = setting.degrees?;
        let changed = cavity.settings.iter().any(|later| later.at > setting.at && later.at <= day.now);
        if changed || day.now - at > OLD || (reads - set).abs() <= ABOUT {
            return None;
        }
        let words = view.words;
        let (name, how) = (capital(words.place(&cavity.place)), if reads < set { "colder" } else { "hotter" });
        Some(format!(
            "{name} is {how} than its dial: {} at {}, set to {}",
            words.degrees(reads),
            words.clock(at),
            words.degrees(set)
        ))
    })
}

/// Roasts whose probe says another time than the plan, as far as a reading can tell.
fn roasts<'a>(view: &'a View<'_>, day: &'a Day) -> impl Iterator<Item = String> + 'a {
    day.probes.iter().filter_map(|(step, left)| {
        let Stage::Running { until: Some(until), .. } = day.stage(step) else { return None };
        let planned = view.planned.plan.steps.get(step)?.end;
        let read = until - left.minutes;
        if (read + left.early..=read + left.late).contains(&planned) {
            return None;
        }
        let words = view.words;
        let how = if until > planned { "later" } else { "sooner" };
        Some(format!(
            "{}: done about {} ({} to {}), {} {how} than planned",
            capital(words.title(step)),
            words.clock(until),
            words.clock(read + left.early),
            words.clock(read + left.late),
            minutes((until - planned).abs())
        ))
    })
}

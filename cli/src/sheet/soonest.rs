//! How soon it can be served, and what decides it.

use rangewright::ask::{Because, ChainStep, Soonest};
use rangewright::models::problem::Problem;

use super::limits::said_first;
use super::page::Page;
use crate::evening::care;
use crate::evening::marks::job;
use crate::words::{Words, capital, minutes};

/// The soonest serving of each course, then the chain of steps that decides the last.
pub(crate) fn soonest(page: &mut Page, problem: &Problem, words: &Words, soonest: &Soonest) {
    page.title(&format!("How soon? {}", words.labels.name));
    said_first(page, problem, words);
    page.line(&format!(
        "Work begins {} at {}. The earliest at the table:",
        words.day(soonest.from),
        words.clock(soonest.from)
    ));
    let mut served: Vec<(&String, i64)> =
        soonest.plan.served.iter().map(|(course, &minute)| (course, minute)).collect();
    served.sort_by_key(|&(course, minute)| (minute, course));
    let mut day = words.day(soonest.from);
    for (course, minute) in served {
        days(page, words, &mut day, minute);
        let after = minutes(minute - soonest.from);
        page.entry(&words.clock(minute), &format!("{}, {after} after work begins", capital(words.course(course))));
    }
    page.gap();
    match (soonest.proved, problem.courses.len()) {
        (true, 1) => page.line("It is proved that nothing can be served sooner."),
        (true, _) => {
            page.line("It is proved that nothing can be served sooner, with each course counted as the menu says.");
        }
        (false, _) => {
            page.line("It may be possible sooner: the search reached its limit. Give it longer with --work or --time.");
        }
    }
    if !soonest.chain.steps.is_empty() {
        decides(page, problem, words, soonest);
    }
    // Served at once, food may have to wait longer than is good for it.
    page.cares(&care::of(problem, words, &words.labels, &soonest.plan));
}

fn decides(page: &mut Page, problem: &Problem, words: &Words, soonest: &Soonest) {
    page.heading("What decides it");
    let mut day = words.day(soonest.from);
    for step in &soonest.chain.steps {
        days(page, words, &mut day, step.start);
        page.entry(&words.clock(step.start), &entry(words, step));
        page.more(&capital(&because(problem, words, soonest, step)));
    }
    for course in &soonest.chain.then {
        let at = soonest.plan.served.get(course).copied().unwrap_or(soonest.from);
        days(page, words, &mut day, at);
        page.entry(&words.clock(at), &capital(words.course(course)));
        page.more("Follows the course before it as the menu asks");
    }
}

/// The day, where it is another.
fn days(page: &mut Page, words: &Words, day: &mut String, minute: i64) {
    let own = words.day(minute);
    if own != *day {
        page.line(&format!("{own}:"));
        *day = own;
    }
}

fn entry(words: &Words, step: &ChainStep) -> String {
    format!("{}, {}, until {}", capital(&job(words, &step.step)), minutes(step.end - step.start), words.clock(step.end))
}

fn because(problem: &Problem, words: &Words, soonest: &Soonest, own: &ChainStep) -> String {
    let titled = |step: &str| format!("\"{}\"", job(words, step));
    match &own.because {
        Because::Follows { step } => format!("follows {}", titled(step)),
        Because::Place { place, step } => {
            let (place, title) = (words.place(place), titled(step));
            match soonest.plan.steps.get(step).map(|before| before.end).filter(|end| *end < own.start) {
                Some(end) => format!("{title} is in {place} until {}, then its heat has to change", words.clock(end)),
                None => format!("{place} is taken until then by {title}"),
            }
        }
        Because::Hands { step } => match soonest.plan.steps.get(step).map(|before| before.end) {
            Some(end) if end > own.start && puts_in(problem, soonest, step, own.start) => {
                format!("the hands are busy until then: {} is put in or on", titled(step))
            }
            // What is in the oven by then is held up at its end, not at its beginning.
            Some(end) if end > own.start => {
                format!("taken out no sooner: the hands are busy until {} with {}", words.clock(end), titled(step))
            }
            _ => format!("the hands are busy until then with {}", titled(step)),
        },
        Because::Pool { pool, step } => format!("{} is in use until then for {}", words.pool(pool), titled(step)),
        Because::Waits { step } => format!("done sooner, it would wait too long for {}", titled(step)),
        Because::Together { course } => {
            format!("done sooner, it would be ready too long before {} is served", words.course(course))
        }
        Because::Shift => "that is when a cook is there".to_owned(),
        Because::Earliest => "the menu does not let it begin sooner".to_owned(),
        Because::FirstHeat { place } => format!("{} has to be hot", words.place(place)),
        Because::Opening => "work begins".to_owned(),
        _ => "nothing in particular: it could begin sooner".to_owned(),
    }
}

/// Whether the hands that a step needs at its beginning are free again at this minute.
fn puts_in(problem: &Problem, soonest: &Soonest, id: &str, minute: i64) -> bool {
    let step = problem.steps.iter().find(|step| step.id == id);
    step.zip(soonest.plan.steps.get(id)).is_some_and(|(step, planned)| {
        step.modes.get(planned.mode).is_some_and(|mode| mode.load > 0 && planned.start + mode.load == minute)
    })
}

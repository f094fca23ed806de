//! What changes in the kitchen or the crew would bring.

use rangewright::change::{Benefit, Change, Found, Help, Measure, Scarce};
use rangewright::models::problem::Problem;

use super::limits::said_first;
use super::page::Page;
use super::{WAITING, facts};
use crate::words::{Words, capital, minutes};

/// What the evening is like, what is used to the limit, and what each change would bring, the most helpful first.
pub(crate) fn worth(page: &mut Page, problem: &Problem, words: &Words, help: &Help, usual: bool) {
    page.title(&format!("What would help? {}", words.labels.name));
    said_first(page, problem, words);
    match &help.before {
        Found::Plan(measure) => before(page, problem, words, help, measure),
        Found::Impossible => page.line("As it stands, this cannot be done."),
        Found::Undecided => page.line("As it stands, the search reached its limit before it found a plan."),
    }
    page.heading("What each change would gain");
    let (helps, idle): (Vec<&Benefit>, Vec<&Benefit>) = help.benefits.iter().partition(|benefit| !is_idle(benefit));
    for benefit in helps {
        page.point(&format!(
            "{}: {}",
            capital(&facts::change(words, &benefit.change)),
            brings(problem, words, benefit, &help.before)
        ));
    }
    if !idle.is_empty() {
        page.point(&format!("No gain for this menu: {}", together(words, &idle).join("; ")));
    }
    if usual && help.benefits.iter().any(|benefit| matches!(benefit.change, Change::Ahead { .. })) {
        page.gap();
        page.line("For work done the day before: cool cooked food fast, keep it at 5 C or colder, and follow local food codes.");
    }
}

fn before(page: &mut Page, problem: &Problem, words: &Words, help: &Help, measure: &Measure) {
    let slips = problem.courses.iter().filter_map(|course| measure.slips.get_key_value(&course.id));
    let late: Vec<String> = slips
        .filter(|(_, slip)| **slip > 0)
        .map(|(course, slip)| format!("\"{}\" is {} late", words.course(course), minutes(*slip)))
        .collect();
    let late = if late.is_empty() { "Every course is on time".to_owned() } else { capital(&late.join(", ")) };
    page.line(&format!(
        "{late}; waiting costs {}; {} of work in the hour before each serving; ovens hot for {}.",
        measure.waiting,
        minutes(measure.last_hour),
        minutes(measure.hot)
    ));
    if !measure.proved {
        page.line("This plan is not proved best, so the changes below may look better than they are.");
    }
    page.line(WAITING);
    page.heading("Used to the limit");
    for busy in &measure.busy {
        let when: Vec<String> = busy
            .stretches
            .iter()
            .map(|&[from, to]| format!("{} to {}", words.clock(from), words.clock_from(from, to)))
            .collect();
        let mark = if help.bottleneck.as_ref() == Some(&busy.what) { " (the bottleneck)" } else { "" };
        page.point(&format!("{}{mark}: {}", capital(&scarce(words, &busy.what)), when.join(", ")));
    }
    if measure.busy.is_empty() {
        page.line("Nothing for as long as ten minutes.");
    }
    if let Some(bottleneck) = help.bottleneck.as_ref().filter(|own| !measure.busy.iter().any(|busy| busy.what == **own))
    {
        page.point(&format!("The bottleneck: {}", scarce(words, bottleneck)));
    }
}

fn scarce(words: &Words, scarce: &Scarce) -> String {
    match scarce {
        Scarce::Hands => "all hands".to_owned(),
        Scarce::Place { place } => words.place(place).to_owned(),
        Scarce::Pool { pool } => words.pool(pool).to_owned(),
    }
}

/// Changes in words; what would be made ahead is named once for all dishes.
fn together(words: &Words, benefits: &[&Benefit]) -> Vec<String> {
    let ahead = |benefit: &&Benefit| match &benefit.change {
        Change::Ahead { dish, .. } => Some(words.dish(dish).to_owned()),
        _ => None,
    };
    let dishes: Vec<String> = benefits.iter().filter_map(ahead).collect();
    let others = benefits.iter().filter(|benefit| ahead(benefit).is_none());
    let mut all: Vec<String> = others.map(|benefit| facts::change(words, &benefit.change)).collect();
    if let Some((last, before)) = dishes.split_last() {
        let named = if before.is_empty() { last.clone() } else { format!("{} or {last}", before.join(", ")) };
        all.push(format!("do the cold work of {named} the day before"));
    }
    all
}

fn is_idle(benefit: &Benefit) -> bool {
    benefit.gain.is_some_and(|[lateness, waiting, hot, last_hour]| [lateness, waiting, last_hour, hot] <= [0; 4])
}

fn brings(problem: &Problem, words: &Words, benefit: &Benefit, before: &Found) -> String {
    let (after, gain) = match (&benefit.after, benefit.gain) {
        (Found::Plan(after), Some(gain)) => (after, gain),
        (Found::Plan(_), None) => return "makes it possible".to_owned(),
        (Found::Impossible, _) => return "it still cannot be done".to_owned(),
        (Found::Undecided, _) => return "not known: the search reached its limit".to_owned(),
    };
    let mut parts = Vec::new();
    if let Found::Plan(before) = before {
        for (course, slip) in problem.courses.iter().filter_map(|course| before.slips.get_key_value(&course.id)) {
            let by = slip - after.slips.get(course).copied().unwrap_or(*slip);
            if by != 0 {
                let how = if by > 0 { "sooner" } else { "later" };
                parts.push(format!("\"{}\" {} {how}", words.course(course), minutes(by.abs())));
            }
        }
    }
    let [_, waiting, hot, last_hour] = gain;
    if waiting != 0 {
        parts.push(format!("waiting costs {} {}", waiting.abs(), if waiting > 0 { "less" } else { "more" }));
    }
    if last_hour != 0 {
        let how = if last_hour > 0 { "less" } else { "more" };
        parts.push(format!("{} {how} work in the last hour", minutes(last_hour.abs())));
    }
    if hot > 0 && waiting == 0 {
        parts.push(format!("ovens hot for {} less", minutes(hot)));
    }
    let doubt = if after.proved { "" } else { " (perhaps more: the search reached its limit)" };
    format!("{}{doubt}", parts.join(", "))
}

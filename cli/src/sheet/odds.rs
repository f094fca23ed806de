//! How likely the hour is to be kept, as text.

use rangewright::margins::Margins;
use rangewright::models::plan::Plan;
use rangewright::models::problem::{Minute, Problem};
use rangewright::odds::{BEARABLE, Odds, Risk, WITHIN};
use rangewright::slack::Slack;
use serde::Serialize;

use super::limits::said_first;
use super::{Page, WAITING};
use crate::evening::marks::job;
use crate::words::{Words, capital, minutes};

/// So many steps are listed, of those that make a course late and of those with minutes to spare.
const LISTED: usize = 12;

/// What is known of a plan's chances.
#[derive(Serialize)]
pub(crate) struct Chances {
    /// The plan.
    pub(crate) plan: Plan,
    /// Its odds.
    pub(crate) odds: Odds,
    /// What each step may lose.
    pub(crate) slack: Vec<Slack>,
    /// More minutes, if they were asked for.
    pub(crate) margins: Option<Margins>,
}

/// Writes the odds.
pub(crate) fn odds(page: &mut Page, problem: &Problem, words: &Words, chances: &Chances) {
    let odds = &chances.odds;
    page.title(&words.labels.name);
    said_first(page, problem, words);
    page.line(&format!("{} evenings played (seed {}).", odds.evenings, odds.seed));
    kept(odds, words, page);
    page.line(&format!(
        "Waiting costs {} on average, no more than {} in nine evenings of ten. {WAITING}",
        odds.waiting.mean, odds.waiting.nine_in_ten,
    ));
    page.line(&match percent(odds.too_long, odds.evenings) {
        0 => format!("Hardly ever does something wait over {BEARABLE} min longer than the menu allows."),
        often => {
            format!("Something waits over {BEARABLE} min longer than the menu allows in {often} evenings of a hundred.")
        }
    });
    page.heading("Where lateness comes from");
    // What makes a course late in less than one evening of a hundred is no news.
    let share = |risk: &Risk| percent(risk.evenings, odds.evenings);
    let mut risks: Vec<&Risk> = odds.risks.iter().filter(|risk| share(risk) > 0).take(LISTED).collect();
    risks.sort_by_key(|risk| std::cmp::Reverse(share(risk)));
    page.line(if risks.is_empty() {
        "Hardly anything makes a course late."
    } else {
        "How often each step makes a course late, in a hundred evenings, and by how much it runs over then:"
    });
    for risk in risks {
        let text = format!("{}: {} over", title(words, &risk.step), minutes(risk.over));
        page.entry(&format!("{}%", share(risk)), &text);
    }
    page.heading("How much time each step has to spare");
    let (none, mut some): (Vec<_>, Vec<_>) =
        chances.slack.iter().partition(|own| own.start.serving.min(own.run.serving) == 0);
    if !none.is_empty() {
        let titles: Vec<String> = none.iter().map(|own| title(words, &own.step)).collect();
        page.point(&format!("Not a minute to spare: {}", titles.join("; ")));
    }
    some.sort_by_key(|own| own.start.serving.min(own.run.serving));
    for own in some.into_iter().take(LISTED) {
        page.point(&format!("{}: {}", title(words, &own.step), spare(own)));
    }
    let Some(margins) = &chances.margins else { return };
    let (wanted, within) = (margins.wanted, odds.within);
    page.heading(&format!("Margins for {wanted} evenings in a hundred within {within} min"));
    page.line(&format!("Without margins: {}%.", percent(margins.before.kept_within, margins.before.evenings)));
    if !margins.margins.is_empty() {
        page.line("Adding these one after another, this many evenings in a hundred:");
    }
    for margin in &margins.margins {
        let share = percent(margin.kept, margins.after.evenings);
        let text = format!(
            "{}: {} more; waiting costs {:+}",
            title(words, &margin.step),
            minutes(margin.minutes),
            margin.waiting
        );
        page.entry(&format!("{share}%"), &text);
    }
    let end = if margins.reached { "That is enough." } else { "No other margin that was tried helps." };
    page.line(&format!("{end} `plan --confidence {wanted}` prints the sheets with these margins in them."));
}

fn kept(odds: &Odds, words: &Words, page: &mut Page) {
    page.gap();
    page.raw(&format!("         on time  within {}  {}  {} min", WITHIN[1], WITHIN[2], WITHIN[3]));
    let mut row = |name: &str, kept: &[usize; 4]| {
        let share = kept.map(|kept| percent(kept, odds.evenings));
        page.raw(&format!("{:>6}%  {:>6}%  {:>2}%  {:>2}%   {name}", share[0], share[1], share[2], share[3]));
    };
    for course in &odds.courses {
        let name = format!("{} at {}", capital(words.course(&course.course)), words.clock(course.planned));
        row(&name, &course.kept);
    }
    if odds.courses.len() > 1 {
        row("all of them", &odds.kept);
    }
    if !WITHIN.contains(&odds.within) {
        let share = percent(odds.kept_within, odds.evenings);
        page.line(&format!("No later than {}: {share}%.", minutes(odds.within)));
    }
    page.gap();
}

/// How late or long a step may be, each number once.
fn spare(own: &Slack) -> String {
    let [free, serving] = [[own.start.free, own.run.free], [own.start.serving, own.run.serving]];
    let up_to = |[late, long]: [Minute; 2]| match late == long {
        true => format!("up to {} later or longer", minutes(late)),
        false => format!("up to {} later, or {} longer", minutes(late), minutes(long)),
    };
    if free == serving {
        format!("{}; beyond that a course is late", up_to(serving))
    } else if free == [0, 0] {
        format!("{}, but other steps move at once", up_to(serving))
    } else {
        let [late, long] = serving;
        let or = if late == long { String::new() } else { format!(" or {}", minutes(long)) };
        format!("{} before other steps move, {}{or} before a course is late", up_to(free), minutes(late))
    }
}

fn title(words: &Words, step: &str) -> String {
    capital(&job(words, step))
}

/// Rounded down, so that 100 means all.
fn percent(part: usize, whole: usize) -> usize {
    part * 100 / whole.max(1)
}

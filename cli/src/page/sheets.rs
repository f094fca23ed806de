//! A cook's run sheet, with a box to tick for each job.

use maud::{Markup, html};

use super::print::{is_short, page_of};
use super::{name, time};
use crate::evening::{CookSheet, Entry, Evening, Line, Sort, View};

pub(super) fn section(view: &View<'_>, evening: &Evening<'_>, sheet: &CookSheet) -> Markup {
    let id = format!("cook-{}", sheet.cook + 1);
    let shifts = view.words.labels.cooks.get(sheet.cook).map(|cook| cook.shifts.as_slice()).unwrap_or_default();
    html! {
        section class="cook" id=(id) aria-labelledby=(format!("{id}-head")) {
            h2 id=(format!("{id}-head")) {
                span class="who" { span { (name(&sheet.name)) } span class="of" { (name(&evening.name)) } }
            }
            @for (number, day) in sheet.days.iter().enumerate() { div class="sheet" style=[(!is_short(evening)).then(|| format!("page: {}", page_of(sheet, number)))] {
                // On paper each day begins a page, and says again whose it is.
                h3 { span class="paper" { (name(&sheet.name)) ", " } (day.day) }
                @let here: Vec<String> = shifts
                    .iter()
                    .filter(|shift| view.words.day(shift[0]) == day.day)
                    .map(|shift| format!("{} to {}", view.words.clock(shift[0]), view.words.clock_from(shift[0], shift[1])))
                    .collect();
                @if !here.is_empty() { p class="shifts" { "In the kitchen " (here.join(", ")) } }
                ol class="jobs" {
                    @for (index, entry) in day.entries.iter().enumerate() {
                        (job(view, entry, &format!("{id}-{number}-{index}"), last_quarter(&day.entries, index)))
                    }
                }
            } }
        }
    }
}

/// Whether a new quarter of an hour begins with this entry.
fn last_quarter(entries: &[Entry], index: usize) -> bool {
    index > 0 && entries[index - 1].at.div_euclid(15) != entries[index].at.div_euclid(15)
}

fn job(view: &View<'_>, entry: &Entry, id: &str, pause: bool) -> Markup {
    let class = match (entry.serves(), pause) {
        (true, _) => "serve",
        (false, true) => "pause",
        (false, false) => "",
    };
    html! {
        li class=[Some(class).filter(|class| !class.is_empty())] {
            input type="checkbox" id=(id);
            label for=(id) {
                (time(view.words, entry.at))
                (what(entry))
            }
            (more(&entry.more))
        }
    }
}

/// What is done, with the letter and, where the title does not say it, the name of the dish.
fn what(entry: &Entry) -> Markup {
    html! {
        span class="what" {
            @if let Some(letter) = entry.letter() { b class="letter" { (letter) } " " }
            @if let Some(dish) = entry.unnamed() { span class="dish" { (name(dish)) ":" } " " }
            (name(&entry.head))
        }
    }
}

/// What else there is to know about a job.
pub(super) fn more(lines: &[Line]) -> Markup {
    html! {
        @if !lines.is_empty() {
            ul class="more" {
                @for line in lines { li class=[class(line.sort)] { (name(&line.text)) } }
            }
        }
    }
}

fn class(sort: Sort) -> Option<&'static str> {
    match sort {
        Sort::Care => Some("care"),
        Sort::Look => Some("look"),
        Sort::Where => Some("where"),
        Sort::Until => Some("until"),
        Sort::With | Sort::Note => None,
    }
}

//! A cook's jobs for the wall: read at two metres, the next thing to do first.

use maud::{Markup, html};

use super::{name, print, time};
use crate::evening::{CookSheet, Entry, Sort, View};

pub(super) fn section(view: &View<'_>, sheet: &CookSheet) -> Markup {
    html! {
        @for (index, day) in sheet.days.iter().enumerate() {
            section class="poster" style=(format!("page: wall-{}", print::page_of(sheet, index))) {
                h2 { (name(&sheet.name)) ", " (day.day) }
                ol { @for entry in &day.entries { (job(view, entry)) } }
            }
        }
    }
}

fn job(view: &View<'_>, entry: &Entry) -> Markup {
    let short = |sort: Sort| entry.more.iter().filter(move |line| line.sort == sort);
    html! {
        li class=[entry.serves().then_some("serve")] {
            span class="at" { (time(view.words, entry.at)) }
            div {
                p class="title" {
                    @if let Some(letter) = entry.letter() { b class="letter" { (letter) } " " }
                    (name(&entry.head))
                }
                p class="brief" {
                    @if let Some(dish) = entry.unnamed() { b { (name(dish)) } " " }
                    @for line in short(Sort::Where).chain(short(Sort::With)) { span { (name(&line.text)) } " " }
                    @for line in short(Sort::Care) { b class="care" { "! " (name(line.text.trim_start_matches("Take care: "))) } }
                }
            }
        }
    }
}

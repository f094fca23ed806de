//! The run sheets as one HTML page that needs nothing else: no script, no font, no picture from elsewhere.

mod buy;
mod cards;
mod end;
mod glance;
mod hands;
mod places;
mod sheets;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use rangewright::models::problem::Minute;

use crate::evening::chart::Chart;
use crate::evening::{Evening, View};
use crate::picture;
use crate::words::Words;

const STYLE: &str = include_str!("page.css");

/// Ink and paper exchanged, for a screen in the dark.
const DARK: &[(&str, &str)] = &[
    ("--paper", "#171612"),
    ("--ink", "#f4f0e6"),
    ("--soft", "#c5beae"),
    ("--line", "#8b8576"),
    ("--faint", "#423e34"),
    ("--wash", "#35322a"),
    ("--accent", "#f2a85f"),
];

/// The whole page.
pub(crate) fn page(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (plain(&evening.name)) ": run sheets" }
                style { (PreEscaped(style())) }
            }
            body class=[view.words.twelve.then_some("twelve")] {
                a class="skip" href="#sheets" { "To the run sheets" }
                svg class="patterns" width="0" height="0" aria-hidden="true" { defs { (picture::patterns()) } }
                (head(evening))
                main {
                    (glance::section(view, chart))
                    div id="sheets" { @for sheet in &evening.sheets { (sheets::section(view, evening, sheet)) } }
                    (cards::section(view, evening, chart))
                    (places::racks(view, evening))
                    (places::appliances(view, chart))
                    (hands::section(evening))
                    (buy::section(evening))
                    (end::section(evening))
                }
            }
        }
    };
    page.into_string() + "\n"
}

fn style() -> String {
    let palette = |colours: &[(&str, &str)]| {
        let colours: Vec<String> = colours.iter().map(|(name, colour)| format!("{name}: {colour};")).collect();
        format!(":root {{ {} }}", colours.join(" "))
    };
    format!(
        "{}\n@media screen and (prefers-color-scheme: dark) {{ {} }}\n{}{STYLE}",
        palette(picture::LIGHT),
        palette(DARK),
        picture::STYLE
    )
}

fn head(evening: &Evening<'_>) -> Markup {
    html! {
        header {
            h1 { (name(&evening.name)) }
            @if !evening.facts.is_empty() { p class="facts" { (name(&evening.facts.join(", "))) } }
            @let days: Vec<&str> = days(evening);
            @for day in days {
                p class="day" { (day) ", at the table" }
                dl class="servings" {
                    @for serving in evening.servings.iter().filter(|serving| serving.day == day) {
                        div {
                            dt { (serving.clock) " " (name(&serving.name)) }
                            dd { (names(&serving.dishes)) }
                        }
                    }
                }
            }
            @for care in evening.cares.iter().filter(|care| care.broken()) {
                p class="breach" role="note" {
                    strong { "! " (name(&care.head())) } " " (name(&care.caution.text)) " " cite { (care.caution.source.cited()) }
                }
            }
            nav aria-label="On this page" {
                ul {
                    li { a href="#glance" { "At a glance" } }
                    @for sheet in &evening.sheets { li { a href=(format!("#cook-{}", sheet.cook + 1)) { (name(&sheet.name)) } } }
                    li { a href="#dishes" { "Dishes" } }
                    li { a href="#racks" { "Racks" } }
                    li { a href="#appliances" { "Appliances" } }
                    @if !evening.to_buy.is_empty() { li { a href="#buy" { "To buy" } } }
                    li { a href="#care" { "Take care" } }
                }
            }
        }
    }
}

fn days<'a>(evening: &'a Evening<'_>) -> Vec<&'a str> {
    let mut days: Vec<&str> = Vec::new();
    for serving in &evening.servings {
        if days.last() != Some(&serving.day.as_str()) {
            days.push(&serving.day);
        }
    }
    days
}

/// A name or a sentence with names in it. Names written from right to left are set apart already.
fn name(text: &str) -> Markup {
    html! { (plain(text)) }
}

fn names(all: &[String]) -> Markup {
    name(&crate::evening::phrases::list(all))
}

/// Text without control characters.
fn plain(text: &str) -> String {
    crate::plain::line(text)
}

/// A clock time, for programs as well where the day has a date.
fn time(words: &Words, minute: Minute) -> Markup {
    let machine = words.dated.then(|| words.labels.calendar.civil(minute).strftime("%Y-%m-%dT%H:%M").to_string());
    html! { time datetime=[machine] { (words.clock(minute)) } }
}

//! The run sheets as one HTML page that needs nothing else: no font, no picture, no script from elsewhere. The little script
//! in it keeps ticks and says what is next; without it the page is whole.

mod buy;
mod cards;
mod doors;
mod end;
mod glance;
mod hands;
mod places;
mod print;
mod roles;
mod scaled;
mod sheets;
mod wall;

use maud::{DOCTYPE, Markup, PreEscaped, html};
use rangewright::models::problem::Minute;

use crate::evening::chart::Chart;
use crate::evening::{Evening, View};
use crate::paper::{Paper, PaperSize, Part};
use crate::picture;
use crate::words::Words;

const STYLE: &str = include_str!("page.css");
const PAPER: &str = include_str!("paper.css");
const SCRIPT: &str = include_str!("page.js");

/// How a page is to be printed.
#[derive(Clone, Copy, Default)]
pub(crate) struct Print {
    /// What for; without it the page has everything.
    pub(crate) paper: Option<Paper>,
    pub(crate) size: PaperSize,
}

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
///
/// The page of one cook has that cook's sheet and nothing else, but for limits that the plan breaks.
pub(crate) fn page(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>, print: Print) -> String {
    let all = print.paper.unwrap_or(Paper::Everything).parts();
    let of_one = [Part::Wall, Part::Cooks];
    let parts: Vec<Part> = all.iter().copied().filter(|part| evening.only.is_none() || of_one.contains(part)).collect();
    let short = print::is_short(evening);
    let classes = [(view.words.twelve, "twelve"), (short, "short"), (!short, "long")];
    let classes: Vec<&str> = classes.iter().filter(|(own, _)| *own).map(|(_, class)| *class).collect();
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (plain(&evening.name)) ": run sheets" }
                style { (PreEscaped(style(evening, print.size))) }
            }
            body class=(classes.join(" ")) {
                @if parts.contains(&Part::Cooks) { a class="skip" href="#sheets" { "To the run sheets" } }
                svg class="patterns" width="0" height="0" aria-hidden="true" { defs { (picture::patterns()) } }
                (head(evening, &parts))
                main { @for part in &parts { (section(*part, &parts, view, evening, chart)) } }
                @if parts.contains(&Part::Cooks) { script { (PreEscaped(SCRIPT)) } }
            }
        }
    };
    page.into_string() + "\n"
}

fn section(part: Part, parts: &[Part], view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>) -> Markup {
    match part {
        // Courses stand at the head.
        Part::Courses => html! {},
        Part::Chart => glance::section(view, evening, chart),
        Part::Roles => roles::section(view, evening),
        Part::Wall => html! { @for sheet in &evening.sheets { (wall::section(view, sheet)) } },
        Part::Cooks => html! {
            div id="sheets" { @for sheet in &evening.sheets { (sheets::section(view, evening, sheet)) } }
        },
        Part::Dishes => html! { (scaled::section(evening)) (cards::section(view, evening, chart)) },
        Part::Racks => places::racks(view, evening),
        Part::Appliances => places::appliances(view, chart),
        Part::OvenDoors => doors::section(view, evening, chart),
        Part::Hands => hands::section(evening),
        Part::Shopping => buy::section(evening, parts),
        Part::Care => end::care(evening),
        Part::Proof => end::proof(evening),
    }
}

fn style(evening: &Evening<'_>, size: PaperSize) -> String {
    let palette = |colours: &[(&str, &str)]| {
        let colours: Vec<String> = colours.iter().map(|(name, colour)| format!("{name}: {colour};")).collect();
        format!(":root {{ {} }}", colours.join(" "))
    };
    format!(
        "{}\n@media screen and (prefers-color-scheme: dark) {{ {} }}\n{}{STYLE}{PAPER}{}",
        palette(picture::LIGHT),
        palette(DARK),
        picture::STYLE,
        print::rules(evening, size)
    )
}

fn head(evening: &Evening<'_>, parts: &[Part]) -> Markup {
    html! {
        header class=[(!parts.contains(&Part::Courses)).then_some("bare")] {
            h1 { (name(&evening.name)) }
            @if !evening.facts.is_empty() { p class="facts" { (name(&evening.facts.join(", "))) } }
            @let days: Vec<&str> = if parts.contains(&Part::Courses) { days(evening) } else { Vec::new() };
            @for day in days {
                p class="day" { (day) ", at the table" }
                dl class="servings" {
                    @for serving in evening.servings.iter().filter(|serving| serving.day == day) {
                        div {
                            dt { (serving.clock) " " (name(&serving.name)) }
                            dd {
                                (names(&serving.dishes))
                                @if let Some(chance) = &serving.chance { span class="chance" { (name(chance)) } }
                            }
                        }
                    }
                }
            }
            @for care in evening.cares.iter().filter(|care| care.broken()) {
                p class="breach" role="note" {
                    strong { "! " (name(&care.head())) } " " (name(&care.caution.text)) " " cite { (care.caution.source.cited()) }
                }
            }
            @if parts.len() > 2 { nav aria-label="On this page" {
                ul {
                    @if parts.contains(&Part::Chart) { li { a href="#glance" { "At a glance" } } }
                    @if parts.contains(&Part::Cooks) {
                        @for sheet in &evening.sheets { li { a href=(format!("#cook-{}", sheet.cook + 1)) { (name(&sheet.name)) } } }
                    }
                    @if parts.contains(&Part::Dishes) { li { a href="#dishes" { "Dishes" } } }
                    @if parts.contains(&Part::Racks) { li { a href="#racks" { "Racks" } } }
                    @if parts.contains(&Part::Appliances) { li { a href="#appliances" { "Appliances" } } }
                    @if parts.contains(&Part::Shopping) && !evening.to_buy.is_empty() { li { a href="#buy" { "To buy" } } }
                    @if parts.contains(&Part::Care) { li { a href="#care" { "Take care" } } }
                }
            } }
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

//! What stands where, drawn to scale at each change; and what each appliance does, in words.

use maud::{Markup, html};
use rangewright::models::problem::Place;

use super::{name, time};
use crate::evening::chart::Chart;
use crate::evening::places::{Table, tables};
use crate::evening::racks::{Arrangement, Room};
use crate::evening::{Evening, View};
use crate::picture;
use crate::words::capital;

pub(super) fn racks(view: &View<'_>, evening: &Evening<'_>) -> Markup {
    let widest = widest(view);
    let mut places: Vec<&str> = evening.racks.iter().map(|own| own.place).collect();
    places.dedup();
    html! {
        section id="racks" aria-labelledby="racks-head" {
            h2 id="racks-head" { "Racks and tops, to scale" }
            @for place in places {
                h3 { (name(&capital(place))) }
                div class="racks" {
                    @for own in evening.racks.iter().filter(|own| own.place == place) { (one(view, own, widest)) }
                }
            }
        }
    }
}

/// How wide the widest oven or top of the kitchen is, mm: all are drawn to one scale.
pub(super) fn widest(view: &View<'_>) -> i64 {
    let width = |place: &Place| match place {
        Place::Cavity(cavity) => cavity.width,
        Place::Top(top) => top.width,
        Place::Hob(_) => 0,
    };
    view.problem.places.iter().map(width).max().unwrap_or(1)
}

pub(super) fn one(view: &View<'_>, own: &Arrangement<'_>, widest: i64) -> Markup {
    let mut pans: Vec<_> = own.pans.iter().collect();
    pans.sort_by_key(|pan| (-pan.floor, pan.x, pan.y));
    html! {
        figure class="arrangement" {
            figcaption {
                // On paper the drawings of all places follow each other without headings.
                span class="paper" { (name(&capital(own.place))) ", " }
                strong { (time(view.words, own.from)) " to " (view.words.clock_from(own.from, own.until)) }
                @if view.words.day(own.from) != view.day.servings.last().map_or(String::new(), |s| view.words.day(s.at)) {
                    " " span class="weekday" { (view.words.day(own.from)) }
                }
            }
            (picture::arrangement(own, widest))
            ul {
                @for pan in pans {
                    li {
                        b { (pan.letter) } " " (name(pan.dish))
                        @if let Room::Cavity(_) = own.room { ", " (pan.spot) }
                    }
                }
            }
        }
    }
}

pub(super) fn appliances(view: &View<'_>, chart: &Chart<'_>) -> Markup {
    let tables = tables(view, chart);
    html! {
        section id="appliances" aria-labelledby="appliances-head" {
            h2 id="appliances-head" { "Each appliance" }
            @for day in &chart.days {
                @if chart.days.len() > 1 { h3 { (day.day) } }
                @for own in tables.iter().filter(|own| own.day == day.day) { (table(view, own)) }
            }
        }
    }
}

fn table(view: &View<'_>, own: &Table) -> Markup {
    html! {
        table {
            caption { (name(&own.name)) }
            thead { tr { th scope="col" { "From" } th scope="col" { "To" } th scope="col" { "Where" } th scope="col" { "What" } } }
            tbody {
                @for row in &own.rows {
                    tr {
                        td { (time(view.words, row.at)) }
                        td { @if let Some(until) = row.until { (view.words.clock_from(row.at, until)) } }
                        td { (name(&row.spot)) }
                        td { (name(&row.what)) }
                    }
                }
            }
        }
    }
}

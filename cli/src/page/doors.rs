//! A sheet for each oven's door: its dial, what goes in and comes out, and where it stands.

use maud::{Markup, html};

use super::{name, places, time};
use crate::evening::chart::Chart;
use crate::evening::places::tables_of_ovens;
use crate::evening::{Evening, View};

pub(super) fn section(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>) -> Markup {
    let widest = places::widest(view);
    html! {
        @for (place, tables) in tables_of_ovens(view, chart) {
            section class="oven-door" {
                h2 { (name(&crate::words::capital(place))) }
                @for table in tables {
                    table {
                        caption { (table.day) }
                        thead { tr { th scope="col" { "At" } th scope="col" { "Until" } th scope="col" { "Where" } th scope="col" { "What" } } }
                        tbody {
                            @for row in &table.rows {
                                tr {
                                    th scope="row" { (time(view.words, row.at)) }
                                    td { @if let Some(until) = row.until { (view.words.clock_from(row.at, until)) } }
                                    td { (name(&row.spot)) }
                                    td { (name(&row.what)) }
                                }
                            }
                        }
                    }
                }
                div class="racks" {
                    @for own in evening.racks.iter().filter(|own| own.place == place) { (places::one(view, own, widest)) }
                }
            }
        }
    }
}

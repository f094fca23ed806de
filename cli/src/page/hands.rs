//! The load on hands in the last hour before each serving, as a table.

use maud::{Markup, html};

use super::name;
use crate::evening::Evening;

pub(super) fn section(evening: &Evening<'_>) -> Markup {
    html! {
        @if !evening.last_hours.is_empty() {
            section id="hands" aria-labelledby="hands-head" {
                h2 id="hands-head" { "Hands in the last hour" }
                p { "Minutes of work in each quarter of an hour before serving." }
                @for hour in &evening.last_hours {
                    table {
                        caption { (name(&hour.head)) }
                        thead {
                            tr {
                                th scope="col" { "Cook" }
                                // In a narrow column "6:15" stands above "pm".
                                @for clock in &hour.quarters { th scope="col" { (clock.replace('\u{a0}', " ")) } }
                                th scope="col" { "all" }
                            }
                        }
                        tbody {
                            @for load in &hour.cooks {
                                tr {
                                    th scope="row" { (name(&load.name)) }
                                    @for minutes in load.busy { td { (minutes) } }
                                    td { (load.sum()) }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

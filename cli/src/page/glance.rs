//! The evening at a glance: the chart of each day, and what its marks and letters mean.

use maud::{Markup, html};

use super::name;
use super::print::is_short;
use crate::evening::chart::Chart;
use crate::evening::{Evening, View};
use crate::picture::{self, NARROW, UPRIGHT, WIDE};

pub(super) fn section(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>) -> Markup {
    html! {
        section id="glance" aria-labelledby="glance-head" {
            h2 id="glance-head" { "The evening at a glance" }
            div class="keys" {
                (picture::legend())
                ul class="letters" aria-label="Letters of the dishes" {
                    @for (letter, dish) in &chart.key { li { b { (letter) } " " (name(dish)) } }
                }
            }
            @for day in &chart.days {
                figure {
                    figcaption { h3 { (day.day) } }
                    // The same chart cut for a wide and for a narrow page; the style shows one of them.
                    div class="wide" { @for piece in picture::day(view, day, WIDE) { (piece) } }
                    // A short evening is printed upright, with what is done.
                    @if is_short(evening) { div class="upright" { @for piece in picture::day(view, day, UPRIGHT) { (piece) } } }
                    div class="narrow" { @for piece in picture::day(view, day, NARROW) { (piece) } }
                }
            }
        }
    }
}

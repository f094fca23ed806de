//! Dishes that are made for more or fewer than they are written for.

use maud::{Markup, html};

use super::name;
use crate::evening::{Evening, SCALED};

pub(super) fn section(evening: &Evening<'_>) -> Markup {
    html! {
        @if !evening.scaled.is_empty() {
            section id="scaled" aria-labelledby="scaled-head" {
                h2 id="scaled-head" { "Made for more or fewer" }
                p { (SCALED) }
                @for own in &evening.scaled {
                    h3 { (name(&own.head)) }
                    ul { @for line in &own.lines { li { (name(line)) } } }
                }
            }
        }
    }
}

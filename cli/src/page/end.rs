//! What was proved, and what to take care of.

use maud::{Markup, html};
use rangewright::models::caution::DEFERENCE;

use super::name;
use crate::evening::Evening;

pub(super) fn care(evening: &Evening<'_>) -> Markup {
    html! {
        section id="care" aria-labelledby="care-head" {
            h2 id="care-head" { "Take care" }
            dl class="cares" {
                @for care in &evening.cares {
                    dt { (name(&care.head())) }
                    dd { (name(&care.caution.text)) " " cite { (care.caution.source.cited()) } }
                }
            }
            p { strong { (DEFERENCE) } }
        }
    }
}

pub(super) fn proof(evening: &Evening<'_>) -> Markup {
    html! {
        section id="proof" aria-labelledby="proof-head" {
            h2 id="proof-head" { "How good this plan is" }
            @for sentence in &evening.proof { p { (name(sentence)) } }
        }
    }
}

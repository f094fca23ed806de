//! What was proved, and what to take care of.

use maud::{Markup, html};
use rangewright::models::caution::DEFERENCE;

use super::name;
use crate::evening::Evening;
use crate::sheet::INFERRED;

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
        @if !evening.contents.is_empty() {
            section id="contents" aria-labelledby="contents-head" {
                h2 id="contents-head" { "What is in it" }
                p { (INFERRED) }
                ul { @for line in &evening.contents { li { (name(line)) } } }
            }
        }
        @if !evening.after.is_empty() {
            section id="after" aria-labelledby="after-head" {
                h2 id="after-head" { "The hour after" }
                ul { @for line in &evening.after { li { (name(line)) } } }
            }
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

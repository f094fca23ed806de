//! What is to be bought, as a table.

use maud::{Markup, html};

use super::{name, names};
use crate::evening::Evening;
use crate::paper::Part;

pub(super) fn section(evening: &Evening<'_>, parts: &[Part]) -> Markup {
    html! {
        @if evening.to_buy.is_empty() && parts == [Part::Shopping] { p { "The menu does not say what to buy." } }
        @if !evening.to_buy.is_empty() {
            section id="buy" aria-labelledby="buy-head" {
                h2 id="buy-head" { "To buy" }
                table {
                    thead { tr { th scope="col" { "What" } th scope="col" { "How much" } th scope="col" { "For" } } }
                    tbody {
                        @for own in &evening.to_buy {
                            tr { th scope="row" { span class="box" aria-hidden="true" {} (name(&own.what)) } td { (name(&own.amount)) } td { (names(&own.dishes)) } }
                        }
                    }
                }
            }
        }
    }
}

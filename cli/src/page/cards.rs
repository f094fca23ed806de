//! A card for each dish: everything that is done to it, whoever does it.

use maud::{Markup, html};

use super::{name, sheets, time};
use crate::evening::chart::Chart;
use crate::evening::{Entry, Evening, View};

pub(super) fn section(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>) -> Markup {
    html! {
        section id="dishes" aria-labelledby="dishes-head" {
            h2 id="dishes-head" { "Dishes" }
            div class="cards" {
                @for (dish, (letter, title)) in view.problem.dishes.iter().zip(&chart.key) {
                    @let own: Vec<&Entry> = evening.entries.iter().filter(|entry| of(view, entry, &dish.id)).collect();
                    @if !own.is_empty() {
                        article class="card" {
                            h3 { b class="letter" { (letter) } " " (name(title)) }
                            p class="served" { (served(view, &dish.id)) }
                            @let allergens = view.words.labels.dishes.get(&dish.id).map(|label| label.allergens.join(", "));
                            @if let Some(allergens) = allergens.filter(|all| !all.is_empty()) {
                                p class="allergens" { "Contains " (name(&allergens)) }
                            }
                            ol { @for entry in own { (step(view, entry)) } }
                        }
                    }
                }
            }
        }
    }
}

fn of(view: &View<'_>, entry: &Entry, dish: &str) -> bool {
    let step = entry.what.step();
    view.problem.steps.iter().any(|own| Some(own.id.as_str()) == step && own.dish == dish)
}

/// When and with what it goes to the table.
fn served(view: &View<'_>, dish: &str) -> Markup {
    let course = view.words.labels.dishes.get(dish).and_then(|label| label.course.as_deref());
    let serving = course.and_then(|course| view.day.servings.iter().find(|serving| serving.course == course));
    let guests = view.words.labels.guests;
    html! {
        @match serving {
            Some(serving) => {
                (name(&crate::words::capital(view.words.course(&serving.course)))) ", " (time(view.words, serving.at))
            }
            None => "Goes into other dishes",
        }
        @if guests > 0 { ", for " (guests) }
    }
}

fn step(view: &View<'_>, entry: &Entry) -> Markup {
    let cooks: Vec<&str> = entry.cooks.iter().filter_map(|cook| view.cook(*cook)).collect();
    let serving = view.day.servings.last().map_or(entry.at, |serving| serving.at);
    let elsewhere = view.words.day(entry.at) != view.words.day(serving);
    html! {
        li {
            (time(view.words, entry.at))
            @if elsewhere { " " span class="weekday" { (weekday(view, entry.at)) } }
            " " span class="what" { (name(&entry.head)) }
            @if entry.what.busy() && view.cooks().count() > 1 { " " span class="by" { (name(&cooks.join(" and "))) } }
            (sheets::more(&entry.more))
        }
    }
}

fn weekday(view: &View<'_>, minute: i64) -> String {
    let day = view.words.day(minute);
    if view.words.dated { day.split(' ').next().unwrap_or_default().to_owned() } else { day }
}

//! The run sheets as text: what a cook reads at two metres with wet hands.

mod broken;
mod chart;
mod cooks;
mod facts;
mod hands;
mod limits;
mod logged;
mod mend;
mod news;
mod no;
mod odds;
mod page;
mod pass;
mod racks;
mod rows;
mod share;
mod soonest;
mod spare;
mod why;
mod worth;

use crate::evening::chart::Chart;
use crate::evening::{Evening, SCALED, View, phrases};

pub(crate) use broken::{broken, broken_plan};
pub(crate) use logged::logged;
pub(crate) use mend::{lines as broken_limits, refused};
pub(crate) use news::{Told, alarms, news};
pub(crate) use no::{No, impossible, undecided};
pub(crate) use odds::{Chances, odds};
pub(crate) use page::{Look, Page};
pub(crate) use pass::pass;
pub(crate) use share::share;
pub(crate) use soonest::soonest;
pub(crate) use spare::spare_refused;
pub(crate) use why::why;
pub(crate) use worth::worth;

/// What the numbers of waiting mean.
const WAITING: &str = "Waiting is counted in the menu's own costs: a minute of hot food in its first ten minutes costs 3 \
                       unless the menu says otherwise.";

/// What the brackets behind food and allergens mean.
pub(crate) const INFERRED: &str =
    "In brackets: the word of the menu that it was inferred from. What is not listed is not known to be absent.";

/// A course of more dishes than this is listed in columns.
const FOLD: usize = 8;

/// The whole answer: what to do when, what each appliance does, what was proved, and what to take care of.
pub(crate) fn planned(view: &View<'_>, evening: &Evening<'_>, chart: &Chart<'_>, look: Look) -> String {
    let mut page = Page::new(look);
    head(evening, &mut page);
    for care in evening.cares.iter().filter(|care| care.broken()) {
        page.gap();
        page.line(&format!("! {}: {} [{}]", care.head(), care.caution.text, care.caution.source.cited()));
    }
    cooks::write(evening, &mut page);
    if evening.only.is_some() {
        // Whose sheet it is has asked for nothing else.
        page.take_care(&evening.cares);
        return page.finish();
    }
    chart::write(view, chart, &mut page);
    hands::write(evening, &mut page);
    if !evening.to_buy.is_empty() {
        page.heading("To buy");
        for own in &evening.to_buy {
            page.point(&format!("{}: {} ({})", own.what, own.amount, phrases::list(&own.dishes)));
        }
    }
    if !evening.scaled.is_empty() {
        page.heading("Made for more or fewer");
        page.line(SCALED);
        for own in &evening.scaled {
            page.gap();
            page.line(&own.head);
            own.lines.iter().for_each(|line| page.point(line));
        }
    }
    page.heading("How good this plan is");
    for sentence in &evening.proof {
        page.line(sentence);
    }
    page.take_care(&evening.cares);
    if !evening.contents.is_empty() {
        page.heading("What is in it");
        page.line(INFERRED);
        evening.contents.iter().for_each(|line| page.point(line));
    }
    if !evening.after.is_empty() {
        page.heading("The hour after");
        evening.after.iter().for_each(|line| page.point(line));
    }
    page.finish()
}

fn head(evening: &Evening<'_>, page: &mut Page) {
    page.title(&evening.name);
    if !evening.facts.is_empty() {
        page.line(&evening.facts.join(", "));
    }
    page.gap();
    let mut day = "";
    for serving in &evening.servings {
        if serving.day != day {
            page.line(&format!("{}, at the table:", serving.day));
            day = &serving.day;
        }
        if serving.dishes.len() <= FOLD {
            page.entry(&serving.clock, &format!("{}: {}", serving.name, phrases::list(&serving.dishes)));
        } else {
            page.entry(&serving.clock, &format!("{}: {} dishes", serving.name, serving.dishes.len()));
            page.more_columns(&serving.dishes);
        }
        if let Some(chance) = &serving.chance {
            page.more(chance);
        }
    }
}

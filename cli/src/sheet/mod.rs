//! The run sheets as text: what a cook reads at two metres with wet hands.

mod cautions;
mod chart;
mod cooks;
mod facts;
mod no;
mod page;
mod phrases;
mod proof;
mod rows;

use rangewright::Planned;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::Schedule;

use crate::words::{Words, capital, count};

pub(crate) use no::{No, impossible, undecided};
pub(crate) use page::{Look, Page, TIED};

/// Everything a sheet is made from.
pub(crate) struct View<'a> {
    pub(crate) problem: &'a Problem,
    pub(crate) words: &'a Words,
    pub(crate) planned: &'a Planned,
    pub(crate) day: &'a Schedule,
}

/// The whole answer: what to do when, what each appliance does, what was proved, and what to take care of.
pub(crate) fn planned(view: &View<'_>, look: Look) -> String {
    let mut page = Page::new(look);
    head(view, &mut page);
    cautions::breaches(view, &mut page);
    cooks::write(view, &mut page);
    chart::write(view, &mut page);
    proof::write(view, &mut page);
    cautions::write(view, &mut page);
    page.finish()
}

fn head(view: &View<'_>, page: &mut Page) {
    let labels = &view.words.labels;
    page.title(&capital(&labels.name));
    let guests = usize::try_from(labels.guests).unwrap_or(0);
    let guests = (guests > 0).then(|| count(guests, "guest", "guests"));
    let facts: Vec<&str> =
        [guests.as_deref(), Some(labels.kitchen.as_str())].into_iter().flatten().filter(|f| !f.is_empty()).collect();
    if !facts.is_empty() {
        page.line(&facts.join(", "));
    }
    page.gap();
    let mut day = String::new();
    for serving in &view.day.servings {
        let own = view.words.day(serving.at);
        if own != day {
            page.line(&format!("{own}, at the table:"));
            day = own;
        }
        let dishes = phrases::dishes_of(view, &serving.course);
        let late = match serving.slip {
            0 => String::new(),
            slip => format!(" ({} later than wanted)", crate::words::minutes(slip)),
        };
        let name = capital(view.words.course(&serving.course));
        page.entry(&view.words.clock(serving.at), &format!("{name}{late}: {dishes}"));
    }
}

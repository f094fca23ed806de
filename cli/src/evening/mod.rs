//! The evening in words: what every sheet, page and calendar says, before it is given a shape.
//!
//! Text, HTML, Markdown, iCalendar and CSV are made from this one account, so that they say the same.

pub(crate) mod care;
pub(crate) mod chart;
mod hands;
mod jobs;
pub(crate) mod marks;
pub(crate) mod phrases;
pub(crate) mod places;
mod proof;
pub(crate) mod racks;
mod scaled;
mod shopping;
pub(crate) mod stands;

use std::collections::BTreeSet;

use rangewright::models::problem::Problem;
use rangewright::models::schedule::Schedule;
use rangewright::{FeastPlan, Planned};

use crate::words::{Words, capital, count};

pub(crate) use care::Care;
pub(crate) use hands::LastHour;
pub(crate) use jobs::{CookSheet, Entry, Line, Sort};
pub(crate) use scaled::{SCALED, Scaled};
pub(crate) use shopping::ToBuy;

/// Everything a sheet is made from.
#[derive(Clone, Copy)]
pub(crate) struct View<'a> {
    pub(crate) problem: &'a Problem,
    pub(crate) words: &'a Words,
    pub(crate) planned: &'a Planned,
    pub(crate) day: &'a Schedule,
}

impl<'a> View<'a> {
    pub(crate) fn new(feast: &'a FeastPlan, words: &'a Words) -> Self {
        View { problem: feast.problem(), words, planned: feast.planned(), day: feast.schedule() }
    }

    /// The cooks, as sentences name them.
    pub(crate) fn cooks(&self) -> impl Iterator<Item = &'a str> {
        self.words.labels.cooks.iter().map(|cook| cook.name.as_str())
    }

    /// The name of one.
    pub(crate) fn cook(&self, cook: usize) -> Option<&'a str> {
        self.cooks().nth(cook)
    }
}

/// The account of an evening.
pub(crate) struct Evening<'a> {
    pub(crate) name: String,
    /// Guests and kitchen, as far as they are known.
    pub(crate) facts: Vec<String>,
    pub(crate) servings: Vec<Serving>,
    pub(crate) sheets: Vec<CookSheet>,
    /// Every job once, whoever does it.
    pub(crate) entries: Vec<Entry>,
    /// The only cook whose sheet is wanted, if not all are.
    pub(crate) only: Option<usize>,
    /// How busy each cook is before each serving.
    pub(crate) last_hours: Vec<LastHour>,
    /// The shopping list; empty if the menu says nothing of it.
    pub(crate) to_buy: Vec<ToBuy>,
    /// The dishes that are made for more or fewer than they are written for.
    pub(crate) scaled: Vec<Scaled>,
    pub(crate) proof: Vec<String>,
    pub(crate) cares: Vec<Care>,
    /// What is to be done when the last course is out.
    pub(crate) after: Vec<String>,
    /// What is in each dish that calls for care, and its allergens.
    pub(crate) contents: Vec<String>,
    /// What stands where, at each change.
    pub(crate) racks: Vec<racks::Arrangement<'a>>,
}

/// A course going out.
pub(crate) struct Serving {
    pub(crate) day: String,
    pub(crate) clock: String,
    /// The course's name, and how late it is.
    pub(crate) name: String,
    pub(crate) dishes: Vec<String>,
    /// How likely it is to keep its hour, if that was worked out.
    pub(crate) chance: Option<String>,
}

impl<'a> Evening<'a> {
    pub(crate) fn new(view: &View<'a>) -> Self {
        let labels = &view.words.labels;
        let guests = usize::try_from(labels.guests).unwrap_or(0);
        let guests = (guests > 0).then(|| count(guests, "guest", "guests"));
        let (mut sheets, mut entries) = (jobs::sheets(view), jobs::all(view));
        let cares = care::all(view, &mut sheets, &mut entries);
        Evening {
            name: capital(&labels.name),
            facts: guests.into_iter().chain([labels.kitchen.clone()]).filter(|fact| !fact.is_empty()).collect(),
            servings: servings(view),
            sheets,
            entries,
            only: None,
            last_hours: hands::last_hours(view),
            to_buy: shopping::to_buy(view),
            scaled: scaled::scaled(view),
            proof: proof::sentences(view),
            cares,
            after: care::after(view),
            contents: care::contents(view),
            racks: racks::all(view),
        }
    }

    /// Leaves only the sheet of one cook, and what that cook is to take care of.
    pub(crate) fn only(mut self, cook: usize) -> Self {
        self.sheets.retain(|sheet| sheet.cook == cook);
        let jobs = self.sheets.iter().flat_map(|sheet| &sheet.days).flat_map(|day| &day.entries);
        let own: BTreeSet<&str> = jobs.filter_map(|entry| entry.what.step()).collect();
        self.cares.retain(|care| care.broken() || care.steps.iter().any(|step| own.contains(step.as_str())));
        self.after.clear();
        self.contents.clear();
        self.only = Some(cook);
        self
    }
}

fn servings(view: &View<'_>) -> Vec<Serving> {
    let serving = |own: &rangewright::models::schedule::Serving| {
        let late = match own.slip {
            0 => String::new(),
            slip => format!(" ({} later than wanted)", crate::words::minutes(slip)),
        };
        Serving {
            day: view.words.day(own.at),
            clock: view.words.clock(own.at),
            name: format!("{}{late}", capital(view.words.course(&own.course))),
            dishes: phrases::dishes_of(view, &own.course).into_iter().map(str::to_owned).collect(),
            chance: view.words.odds.as_ref().and_then(|odds| {
                let course = odds.courses.iter().find(|course| course.course == own.course)?;
                Some(capital(&crate::chances::of_course(odds, course)))
            }),
        }
    };
    view.day.servings.iter().map(serving).collect()
}

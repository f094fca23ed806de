//! A chart of each day: what every appliance does, and whose hands are on what.

use std::collections::BTreeMap;

use rangewright::models::problem::Minute;
use unicode_width::UnicodeWidthStr;

use super::page::{clean, shorten};
use super::rows::{Block, Row, rows};
use super::{Page, View};
use crate::words::capital;

/// From which minute to which, and how many minutes one column stands for.
#[derive(Clone, Copy, Debug)]
pub(super) struct Axis {
    pub(super) from: Minute,
    pub(super) to: Minute,
    pub(super) per: Minute,
}

/// Minutes left free at the end of a chart.
const LEEWAY: Minute = 20;

impl Axis {
    /// Whole hours around a stretch, in the finest grain that fits the columns.
    fn new(from: Minute, to: Minute, columns: usize) -> Self {
        // The word "off" at the end wants some columns.
        let (from, to) = (from.div_euclid(60) * 60, (to + 59 + LEEWAY).div_euclid(60) * 60);
        let fits = |per: &Minute| (to - from + per - 1) / per <= i64::try_from(columns).unwrap_or(1);
        let per = [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 30, 60, 120].into_iter().find(fits).unwrap_or(240);
        Axis { from, to, per }
    }

    pub(super) fn columns(&self) -> usize {
        usize::try_from((self.to - self.from + self.per - 1) / self.per).unwrap_or(0)
    }

    /// The column of a minute: one of the chart's for all minutes before its end, and the one after for the end.
    pub(super) fn column(&self, minute: Minute) -> usize {
        usize::try_from((minute.clamp(self.from, self.to) - self.from) / self.per).unwrap_or(0)
    }
}

pub(super) fn write(view: &View<'_>, page: &mut Page) {
    let letters = letters(view);
    let mut days: BTreeMap<Minute, (String, Minute, Minute)> = BTreeMap::new();
    for (start, end) in stretches(view) {
        // A stretch belongs to the day it starts in; what runs past midnight is drawn to its end.
        let day = view.words.day(start);
        let first = days.values().find(|(name, ..)| *name == day).map(|(_, from, _)| *from);
        let (_, from, to) = days.entry(first.unwrap_or(start)).or_insert((day, start, end));
        (*from, *to) = ((*from).min(start), (*to).max(end));
    }
    let several = days.len() > 1;
    for (day, from, to) in days.into_values() {
        page.heading(&if several { format!("Who and what, {day}") } else { "Who and what".to_owned() });
        page.gap();
        draw(view, page, &letters, from, to);
    }
    if !letters.is_empty() {
        page.gap();
        let key: Vec<String> =
            letters.iter().map(|(dish, letter)| format!("{letter} = {}", view.words.dish(dish))).collect();
        page.line(&key.join(", "));
    }
}

/// When anything is done that the chart shows.
fn stretches(view: &View<'_>) -> Vec<(Minute, Minute)> {
    let placed = view.problem.steps.iter().filter_map(|step| {
        let own = super::phrases::planned(view, &step.id)?;
        own.mode.place.as_ref()?;
        Some((own.start, own.end))
    });
    let hands = view.day.jobs.iter().filter(|job| job.what.busy()).map(|job| (job.at, job.until));
    let dials = view.day.cavities.iter().flat_map(|day| &day.settings).map(|setting| (setting.at, setting.at));
    let mut all: Vec<_> = placed.chain(hands).chain(dials).collect();
    all.sort_unstable();
    all
}

/// A letter for each dish, in the order of the menu.
fn letters(view: &View<'_>) -> Vec<(String, char)> {
    let alphabet = ('A'..='Z').chain('a'..='z').chain('0'..='9').chain(std::iter::repeat('?'));
    view.problem.dishes.iter().map(|dish| dish.id.clone()).zip(alphabet).collect()
}

fn draw(view: &View<'_>, page: &mut Page, letters: &[(String, char)], from: Minute, to: Minute) {
    let width = page.look().width;
    let blocks = rows(view, letters, page.look().unicode, |columns| Axis::new(from, to, columns), width);
    let label = blocks.iter().flat_map(|block| &block.rows).map(|row| row.name.width()).max().unwrap_or(0);
    let label = label.clamp(6, width / 4);
    let axis = Axis::new(from, to, width - label - 3);
    let blocks = rows(view, letters, page.look().unicode, |_| axis, width);
    ruler(view, page, axis, label);
    for Block { name, rows } in blocks {
        if let Some(name) = name {
            page.raw(&shorten(&capital(&clean(&name)), width));
        }
        for Row { name, cells } in rows {
            let name = shorten(&clean(&name), label);
            let pad = " ".repeat(label.saturating_sub(name.width()));
            page.raw(&format!(" {name}{pad} {}", cells.into_iter().collect::<String>()));
        }
    }
}

/// Clock times over the hours, and a mark at each.
fn ruler(view: &View<'_>, page: &mut Page, axis: Axis, label: usize) {
    let hour = usize::try_from(60 / axis.per.min(60)).unwrap_or(1);
    let every = [1, 2, 3, 4, 6, 12, 24].into_iter().find(|every| every * hour >= 6).unwrap_or(24);
    let columns = axis.columns();
    let (mut times, mut marks) = (String::new(), String::new());
    let mut minute = axis.from;
    while minute <= axis.to {
        let column = axis.column(minute);
        let clock = view.words.clock(minute);
        if column + clock.len() <= columns + 3 && column >= times.len() {
            times.push_str(&" ".repeat(column - times.len()));
            times.push_str(&clock);
        }
        marks.push_str(&" ".repeat(column.saturating_sub(marks.len())));
        if marks.len() == column {
            marks.push('|');
        }
        minute += 60 * i64::try_from(every).unwrap_or(1);
    }
    let indent = " ".repeat(label + 2);
    page.raw(&format!("{indent}{times}"));
    page.raw(&format!("{indent}{marks}"));
}

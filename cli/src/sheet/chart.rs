//! A chart of each day: what every appliance does, and whose hands are on what.

use rangewright::models::problem::Minute;
use unicode_width::UnicodeWidthStr;

use super::Page;
use super::page::shorten;
use super::rows::{Pencil, Row};
use crate::evening::View;
use crate::evening::chart::{Block, BlockSort, Chart, ChartDay};
use crate::plain;
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
        let per = [2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 15, 20, 30, 60, 120].into_iter().find(fits);
        let least = (to - from) / i64::try_from(columns).unwrap_or(1).max(1) + 1;
        Axis { from, to, per: per.unwrap_or(least) }
    }

    pub(super) fn columns(&self) -> usize {
        usize::try_from((self.to - self.from + self.per - 1) / self.per).unwrap_or(0)
    }

    /// The column of a minute: one of the chart's for all minutes before its end, and the one after for the end.
    pub(super) fn column(&self, minute: Minute) -> usize {
        usize::try_from((minute.clamp(self.from, self.to) - self.from) / self.per).unwrap_or(0)
    }
}

pub(super) fn write(view: &View<'_>, chart: &Chart<'_>, page: &mut Page) {
    for day in &chart.days {
        let several = chart.days.len() > 1;
        page.heading(&if several { format!("Who and what, {}", day.day) } else { "Who and what".to_owned() });
        page.gap();
        draw(view, day, page);
    }
    if !chart.days.is_empty() {
        key(page);
    }
    if !chart.key.is_empty() {
        page.gap();
        let key: Vec<String> = chart.key.iter().map(|(letter, dish)| format!("{letter} = {dish}")).collect();
        page.columns(&key);
    }
}

fn draw(view: &View<'_>, day: &ChartDay<'_>, page: &mut Page) {
    let look = page.look();
    // The row of a dish has only its letter: the key below has the names.
    let others = day.blocks.iter().filter(|block| block.sort != BlockSort::Dishes);
    let names = others.flat_map(|block| &block.lanes).map(|lane| lane.name.width());
    let label = names.max().unwrap_or(0).clamp(6, look.width / 4);
    let axis = Axis::new(day.from, day.to, look.width - label - 3);
    let pencil = Pencil { view, unicode: look.unicode, axis };
    ruler(view, page, axis, label);
    let serve = pencil.serve(&day.flags);
    rows(page, serve.into_iter().collect(), label);
    for block in &day.blocks {
        if block.sort != BlockSort::Hands {
            page.raw(&shorten(&capital(&plain::line(block.name)), look.width));
        }
        of_block(&pencil, block, page, label);
    }
}

fn of_block(pencil: &Pencil<'_>, block: &Block<'_>, page: &mut Page, label: usize) {
    if let Some(day) = block.cavity {
        let (row, left_out) = pencil.dial(day);
        rows(page, vec![row], label);
        if !left_out.is_empty() {
            page.more_at(label + 2, &format!("also {}", left_out.join("; ")));
        }
    }
    let mut lanes: Vec<Row> = block.lanes.iter().flat_map(|lane| pencil.lane(lane)).collect();
    if block.sort == BlockSort::Dishes {
        lanes.iter_mut().for_each(|row| row.name.truncate(row.name.chars().next().map_or(0, char::len_utf8)));
    }
    rows(page, lanes, label);
    rows(page, block.cavity.map(|day| pencil.doors(day)).into_iter().collect(), label);
}

/// What the signs mean.
fn key(page: &mut Page) {
    page.gap();
    let words = if page.look().unicode {
        "AAA = hands busy; ━ = cooking; ╌ = resting, chilling, kept warm or waiting; ╱ ╲ = the oven on its way; ▾ = its door opens"
    } else {
        "AAA = hands busy; = cooking; ~ resting, chilling, kept warm or waiting; / \\ the oven on its way; v its door opens"
    };
    page.line(words);
    page.line("A blank instead of dots: the cook is away.");
}

fn rows(page: &mut Page, rows: Vec<Row>, label: usize) {
    for Row { name, cells } in rows {
        let name = shorten(&plain::line(&name), label);
        let pad = " ".repeat(label.saturating_sub(name.width()));
        page.raw(&format!(" {name}{pad} {}", cells.into_iter().collect::<String>()));
    }
}

/// Clock times over the hours, and a mark at each.
fn ruler(view: &View<'_>, page: &mut Page, axis: Axis, label: usize) {
    let columns = axis.columns();
    let widest = (0..24).map(|hour| view.words.hour(60 * hour).width()).max().unwrap_or(5);
    let wanted = axis.per * i64::try_from(widest + 1).unwrap_or(6);
    let every = [1, 2, 3, 4, 6, 12, 24].into_iter().find(|every| every * 60 >= wanted);
    let every = every.unwrap_or((wanted + 1439) / 1440 * 24);
    let (mut times, mut marks) = (String::new(), String::new());
    let mut minute = axis.from;
    while minute <= axis.to {
        let column = axis.column(minute);
        let clock = view.words.hour(minute);
        if column + clock.width() <= columns + 1 && column >= times.width() {
            times.push_str(&" ".repeat(column - times.width()));
            times.push_str(&clock);
        }
        marks.push_str(&" ".repeat(column.saturating_sub(marks.len())));
        if marks.len() == column {
            marks.push('|');
        }
        minute += 60 * every;
    }
    let indent = " ".repeat(label + 2);
    page.raw(&format!("{indent}{times}"));
    page.raw(&format!("{indent}{marks}"));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_keeps_to_its_columns() {
        for columns in 20..200 {
            for to in [1, 61, 479, 1440, 5000, 43_200] {
                let axis = Axis::new(0, to, columns);
                assert!(axis.columns() <= columns && axis.column(to) < axis.columns(), "{to} in {columns}: {axis:?}");
            }
        }
    }
}

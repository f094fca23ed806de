//! The load on hands in the last hour, a line for each cook.

use unicode_width::UnicodeWidthStr;

use super::Page;
use super::page::shorten;
use crate::evening::{Evening, LastHour};

/// Columns that a name is worth.
const NAME: usize = 6;

pub(super) fn write(evening: &Evening<'_>, page: &mut Page) {
    if evening.last_hours.is_empty() {
        return;
    }
    page.heading("Hands in the last hour");
    page.line("Minutes of work in each quarter of an hour before serving.");
    for hour in &evening.last_hours {
        page.gap();
        page.line(&hour.head);
        table(hour, page);
    }
}

fn table(hour: &LastHour, page: &mut Page) {
    let column = hour.quarters.iter().map(|clock| clock.width()).max().unwrap_or(0) + 2;
    let names = hour.cooks.iter().map(|load| load.name.width()).max().unwrap_or(0);
    let room = names.min(page.look().width.saturating_sub(2 + (hour.quarters.len() + 1) * column));
    if room < names.min(NAME) {
        // No room for columns.
        for load in &hour.cooks {
            let quarters: Vec<String> = load.busy.iter().map(i64::to_string).collect();
            page.point(&format!("{}: {}; {} in all", load.name, quarters.join(", "), load.sum()));
        }
        return;
    }
    let cells = |cells: &[String]| cells.iter().map(|cell| format!("{cell:>column$}")).collect::<String>();
    let row = |name: &str, texts: &[String], sum: &str| {
        let name = shorten(&crate::plain::line(name), room);
        let pad = " ".repeat(room - name.width().min(room));
        format!("  {name}{pad}{}{sum:>column$}", cells(texts))
    };
    page.raw(&row("", &hour.quarters, "all"));
    for load in &hour.cooks {
        page.raw(&row(&load.name, &load.busy.map(|minutes| minutes.to_string()), &load.sum().to_string()));
    }
}

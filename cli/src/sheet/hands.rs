//! The load on hands in the last hour, a line for each cook.

use super::Page;
use crate::evening::Evening;

pub(super) fn write(evening: &Evening<'_>, page: &mut Page) {
    if evening.last_hours.is_empty() {
        return;
    }
    page.heading("Hands in the last hour");
    page.line("Minutes of work in each quarter of an hour before serving.");
    let names = evening.last_hours.iter().flat_map(|hour| &hour.cooks).map(|load| load.name.chars().count());
    let room = names.max().unwrap_or(0).min(20);
    for hour in &evening.last_hours {
        page.gap();
        let columns: String = hour.quarters.iter().map(|clock| format!("{clock:>10}")).collect();
        page.raw(&format!("  {:room$}{columns}       all", ""));
        for load in &hour.cooks {
            let name: String = super::clean(&load.name).chars().take(room).collect();
            let columns: String = load.busy.iter().map(|minutes| format!("{minutes:>10}")).collect();
            page.raw(&format!("  {name:room$}{columns}{:>10}", load.sum()));
        }
        page.raw(&format!("  {}", hour.head));
    }
}

//! What each appliance does, as lines of a table.

use rangewright::models::problem::Minute;
use rangewright::models::schedule::{CavityDay, Setting};

use super::chart::{Block, BlockSort, Chart};
use super::{View, phrases};
use crate::words::capital;

/// What an appliance does on one day, in order of time.
pub(crate) struct Table {
    pub(crate) day: String,
    pub(crate) name: String,
    pub(crate) rows: Vec<Row>,
}

/// A line of an appliance's table.
pub(crate) struct Row {
    pub(crate) at: Minute,
    pub(crate) until: Option<Minute>,
    pub(crate) spot: String,
    pub(crate) what: String,
}

/// One table for each appliance and day; cooks have their sheets.
pub(crate) fn tables(view: &View<'_>, chart: &Chart<'_>) -> Vec<Table> {
    let mut tables = Vec::new();
    for day in &chart.days {
        for block in day.blocks.iter().filter(|block| !matches!(block.sort, BlockSort::Hands | BlockSort::Dishes)) {
            let rows = rows(view, block, [day.from, day.to]);
            tables.push(Table { day: day.day.clone(), name: capital(block.name), rows });
        }
    }
    tables
}

/// The tables of each oven that is used, with its name, a table for each day.
pub(crate) fn tables_of_ovens<'a>(view: &View<'_>, chart: &Chart<'a>) -> Vec<(&'a str, Vec<Table>)> {
    let mut ovens: Vec<(&'a str, Vec<Table>)> = Vec::new();
    for day in &chart.days {
        for block in day.blocks.iter().filter(|block| block.cavity.is_some()) {
            let rows = rows(view, block, [day.from, day.to]);
            let table = Table { day: day.day.clone(), name: capital(block.name), rows };
            match ovens.iter_mut().find(|(name, _)| *name == block.name) {
                Some((_, tables)) => tables.push(table),
                None => ovens.push((block.name, vec![table])),
            }
        }
    }
    ovens
}

fn rows(view: &View<'_>, block: &Block<'_>, day: [Minute; 2]) -> Vec<Row> {
    let mut rows: Vec<Row> = block.cavity.map(|cavity| settings(view, cavity, day)).unwrap_or_default();
    let mut name = "";
    for lane in &block.lanes {
        name = if lane.name.is_empty() { name } else { &lane.name };
        rows.extend(lane.bars.iter().map(|bar| Row {
            at: bar.from,
            until: Some(bar.to),
            spot: capital(name),
            what: format!("{} {}: {}", bar.letter, bar.dish, bar.title),
        }));
    }
    rows.sort_by_key(|row| row.at);
    rows
}

fn settings(view: &View<'_>, cavity: &CavityDay, [from, to]: [Minute; 2]) -> Vec<Row> {
    let row = |setting: &Setting| Row {
        at: setting.at,
        until: Some(setting.there).filter(|there| *there > setting.at && setting.degrees.is_some()),
        spot: "Dial".to_owned(),
        what: match setting.degrees {
            None => "Switch off".to_owned(),
            Some(_) => format!("On its way to {}", phrases::dial(view, cavity, setting)),
        },
    };
    cavity.settings.iter().filter(|setting| (from..=to).contains(&setting.at)).map(row).collect()
}

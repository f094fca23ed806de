//! The rows of a chart in letters: lanes, the oven's dial and its door.

use rangewright::models::problem::Minute;
use rangewright::models::schedule::CavityDay;

use super::chart::Axis;
use crate::evening::chart::{Bar, Fill, Flag, Lane};
use crate::evening::{View, phrases};

/// How many columns after its own minute a short job may be drawn, if another is there.
const NEAR: usize = 1;

/// A line of a chart.
pub(super) struct Row {
    pub(super) name: String,
    pub(super) cells: Vec<char>,
}

pub(super) struct Pencil<'a> {
    pub(super) view: &'a View<'a>,
    pub(super) unicode: bool,
    pub(super) axis: Axis,
}

impl Pencil<'_> {
    fn empty(&self) -> Vec<char> {
        vec![if self.unicode { '·' } else { '.' }; self.axis.columns()]
    }

    fn shown(&self, from: Minute, to: Minute) -> bool {
        from < self.axis.to && self.axis.from < to
    }

    /// When courses go out.
    pub(super) fn serve(&self, flags: &[Flag<'_>]) -> Option<Row> {
        let mut cells = vec![' '; self.axis.columns()];
        for flag in flags {
            let column = self.axis.column(flag.at).min(cells.len().saturating_sub(1));
            if let Some(cell) = cells.get_mut(column) {
                *cell = char::from_digit(u32::try_from(flag.number).unwrap_or(36).min(36), 36).unwrap_or('*');
            }
        }
        (!flags.is_empty()).then(|| Row { name: "serve".to_owned(), cells })
    }

    pub(super) fn doors(&self, day: &CavityDay) -> Row {
        let mut cells = self.empty();
        for door in day.doors.iter().filter(|door| self.shown(door.at, door.at + 1)) {
            cells[self.axis.column(door.at)] = if self.unicode { '▾' } else { 'v' };
        }
        Row { name: "door".to_owned(), cells }
    }

    /// The settings as numbers, slanted while the air is on its way, level while it is there; and those for which there
    /// was no room, in words.
    pub(super) fn dial(&self, day: &CavityDay) -> (Row, Vec<String>) {
        let mut cells = self.empty();
        let mut left_out = Vec::new();
        let (up, level) = if self.unicode { ('╱', '─') } else { ('/', '-') };
        let down = if self.unicode { '╲' } else { '\\' };
        let mut before = i64::MIN;
        for (index, setting) in day.settings.iter().enumerate() {
            let end = day.settings.get(index + 1).map_or(self.axis.to, |next| next.at);
            let degrees = setting.degrees;
            if self.shown(setting.at, end.max(setting.at + 1)) {
                let (from, to) = (self.axis.column(setting.at), self.axis.column(end));
                let there = self.axis.column(setting.there.min(end));
                let slant = if degrees.is_some_and(|degrees| degrees >= before) { up } else { down };
                for (column, cell) in cells.iter_mut().enumerate().take(to).skip(from) {
                    *cell = match degrees {
                        None => *cell,
                        Some(_) if column < there => slant,
                        Some(_) => level,
                    };
                }
                let label = match degrees {
                    // Only the kind of heat changes.
                    Some(same) if same == before => String::new(),
                    Some(degrees) => short(&phrases::set_to(self.view, day, setting, degrees)),
                    None => "off".to_owned(),
                };
                // A number is written where the heat is reached, if it fits there.
                let at = if degrees.is_some() && there + label.len() <= to { there } else { from };
                if setting.at >= self.axis.from && !label.is_empty() {
                    let room = if degrees.is_none() { cells.len() } else { to.max(at) };
                    if at + label.len() <= room {
                        for (cell, letter) in cells[at..].iter_mut().zip(label.chars()) {
                            *cell = letter;
                        }
                    } else {
                        let said = phrases::dial(self.view, day, setting);
                        left_out.push(format!("{} {said}", self.view.words.clock(setting.at)));
                    }
                }
            }
            before = degrees.unwrap_or(i64::MIN);
        }
        (Row { name: "dial".to_owned(), cells }, left_out)
    }

    /// Bars one after the other. Work of hands is filled with the dish's letter; what finds no column free near its minute
    /// goes into a row below.
    pub(super) fn lane(&self, lane: &Lane<'_>) -> Vec<Row> {
        let mut rows = Vec::new();
        let mut bars: Vec<&Bar<'_>> = lane.bars.iter().collect();
        while !bars.is_empty() {
            let mut cells = self.empty();
            for &[gone, back] in &lane.away {
                cells[self.axis.column(gone)..self.axis.column(back)].fill(' ');
            }
            let (mut free, mut crowded) = (0, Vec::new());
            for bar in bars {
                let column = self.axis.column(bar.from);
                let from = column.max(free);
                if from > column + NEAR || from >= cells.len() {
                    crowded.push(bar);
                } else if bar.fill == Fill::Hands {
                    free = self.axis.column(bar.to).max(from + 1).min(cells.len());
                    cells[from..free].fill(bar.letter);
                } else {
                    self.bar(bar, &mut free, &mut cells);
                }
            }
            let name = if rows.is_empty() { lane.name.clone() } else { String::new() };
            rows.push(Row { name, cells });
            // Nothing is left for ever that has no column at all.
            bars = if rows.len() > lane.bars.len() { Vec::new() } else { crowded };
        }
        rows
    }

    fn bar(&self, bar: &Bar<'_>, free: &mut usize, cells: &mut [char]) {
        let fill = match (bar.fill, self.unicode) {
            (Fill::Resting | Fill::Chilling | Fill::Holding | Fill::Waiting, true) => '╌',
            (Fill::Resting | Fill::Chilling | Fill::Holding | Fill::Waiting, false) => '~',
            (_, true) => '━',
            (_, false) => '=',
        };
        let from = self.axis.column(bar.from).max(*free);
        let to = self.axis.column(bar.to).max(from + 1).min(cells.len());
        let shown = if self.unicode { crate::plain::line } else { crate::plain::literal };
        let name = shown(&bar.label).replace(crate::plain::TIED, " ");
        let narrow = name.chars().all(|letter| unicode_width::UnicodeWidthChar::width(letter) == Some(1));
        let mut text = vec![bar.letter];
        if narrow && name.chars().count() + 4 <= to.saturating_sub(from) {
            text.push(' ');
            text.extend(name.chars());
            text.push(' ');
        }
        for (index, cell) in cells[from.min(to)..to].iter_mut().enumerate() {
            *cell = text.get(index).copied().unwrap_or(fill);
        }
        if to > from + 1 {
            cells[to - 1] = if self.unicode { '┃' } else { '|' };
        }
        *free = to;
    }
}

/// The number alone; of gas marks `gas7`, and `gas6-7` for a heat between two.
fn short(degrees: &str) -> String {
    let plain = degrees.replace(crate::plain::TIED, " ");
    match plain.trim_start_matches("between ").strip_prefix("gas ") {
        Some(marks) => format!("gas{}", marks.replace(" and ", "-")),
        None => plain.split(' ').next().unwrap_or_default().to_owned(),
    }
}

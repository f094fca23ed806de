//! The rows of a chart: one for each rack, burner, part of a top and cook, and the oven's dial and door.

use rangewright::models::problem::{Minute, Rack};
use rangewright::models::schedule::CavityDay;

use super::View;
use super::chart::Axis;
use super::phrases;

/// The rows of one appliance.
pub(super) struct Block {
    pub(super) name: Option<String>,
    pub(super) rows: Vec<Row>,
}

/// A line of a chart.
pub(super) struct Row {
    pub(super) name: String,
    pub(super) cells: Vec<char>,
}

/// What is drawn on a row: a stretch, the letter it begins with, and the name that fills it as far as it fits.
struct Bar {
    from: Minute,
    to: Minute,
    letter: char,
    name: String,
}

struct Pencil<'a> {
    view: &'a View<'a>,
    letters: &'a [(String, char)],
    unicode: bool,
    axis: Axis,
}

/// Draws everything that is used within the axis.
pub(super) fn rows(
    view: &View<'_>,
    letters: &[(String, char)],
    unicode: bool,
    axis: impl Fn(usize) -> Axis,
    width: usize,
) -> Vec<Block> {
    let pencil = Pencil { view, letters, unicode, axis: axis(width) };
    let mut blocks = vec![pencil.cooks()];
    blocks.extend(view.day.cavities.iter().filter_map(|day| pencil.cavity(day)));
    for day in &view.day.hobs {
        let lanes = day
            .spots
            .iter()
            .map(|spot| (format!("burner {}", spot.burner), pencil.bar(&spot.step, spot.from, spot.until)));
        blocks.extend(pencil.block(view.words.place(&day.place), pencil.lanes(lanes.collect())));
    }
    for day in &view.day.tops {
        let lanes = day.spots.iter().map(|spot| ("pans".to_owned(), pencil.bar(&spot.step, spot.from, spot.until)));
        blocks.extend(pencil.block(view.words.place(&day.place), pencil.lanes(lanes.collect())));
    }
    blocks
}

impl Pencil<'_> {
    fn empty(&self) -> Vec<char> {
        vec![if self.unicode { '·' } else { '.' }; self.axis.columns()]
    }

    fn block(&self, name: &str, rows: Vec<Row>) -> Option<Block> {
        (!rows.is_empty()).then(|| Block { name: Some(name.to_owned()), rows })
    }

    fn letter(&self, step: &str) -> char {
        let dish = self.view.problem.steps.iter().find(|own| own.id == step).map(|own| own.dish.as_str());
        self.letters.iter().find(|(own, _)| Some(own.as_str()) == dish).map_or('?', |(_, letter)| *letter)
    }

    fn bar(&self, step: &str, from: Minute, to: Minute) -> Bar {
        let name = self.view.words.dish_of(step).to_owned();
        Bar { from, to, letter: self.letter(step), name }
    }

    fn shown(&self, from: Minute, to: Minute) -> bool {
        from < self.axis.to && self.axis.from < to
    }

    /// Whose hands are on which dish, and when courses go out.
    fn cooks(&self) -> Block {
        let mut rows = Vec::new();
        let mut serve = vec![' '; self.axis.columns()];
        for (number, serving) in self.view.day.servings.iter().enumerate() {
            if (self.axis.from..=self.axis.to).contains(&serving.at) {
                let column = self.axis.column(serving.at).min(serve.len().saturating_sub(1));
                if let Some(cell) = serve.get_mut(column) {
                    *cell = char::from_digit(u32::try_from(number + 1).unwrap_or(0), 36).unwrap_or('*');
                }
            }
        }
        if serve.iter().any(|cell| *cell != ' ') {
            rows.push(Row { name: "serve".to_owned(), cells: serve });
        }
        for (cook, name) in self.view.day.cooks.iter().enumerate() {
            let mut cells = self.empty();
            let own = self.view.day.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook));
            let mut used = false;
            for job in own.filter(|job| self.shown(job.at, job.until)) {
                let letter = job.what.step().map_or('?', |step| self.letter(step));
                let from = self.axis.column(job.at);
                for cell in &mut cells[from..self.axis.column(job.until).max(from + 1).min(self.axis.columns())] {
                    *cell = letter;
                }
                used = true;
            }
            if used {
                rows.push(Row { name: name.clone(), cells });
            }
        }
        Block { name: None, rows }
    }

    fn cavity(&self, day: &CavityDay) -> Option<Block> {
        let lanes: Vec<(String, Bar)> = [Rack::Upper, Rack::Middle, Rack::Lower]
            .into_iter()
            .flat_map(|height| day.spots.iter().filter(move |spot| spot.height == height))
            .map(|spot| (phrases::rack(spot.height).to_owned(), self.bar(&spot.step, spot.from, spot.until)))
            .collect();
        let racks = self.lanes(lanes);
        if racks.is_empty() && !day.settings.iter().any(|setting| self.shown(setting.at, setting.at + 1)) {
            return None;
        }
        let mut rows = vec![Row { name: "dial".to_owned(), cells: self.dial(day) }];
        rows.extend(racks);
        let mut doors = self.empty();
        for door in day.doors.iter().filter(|door| self.shown(door.at, door.at + 1)) {
            doors[self.axis.column(door.at)] = if self.unicode { '▾' } else { 'v' };
        }
        rows.push(Row { name: "door".to_owned(), cells: doors });
        self.block(self.view.words.place(&day.place), rows)
    }

    /// The settings as numbers, slanted while the air is on its way, level while it is there.
    fn dial(&self, day: &CavityDay) -> Vec<char> {
        let mut cells = self.empty();
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
                    Some(degrees) => {
                        self.view.words.degrees(degrees).split(super::TIED).next().unwrap_or("").to_owned()
                    }
                    None => "off".to_owned(),
                };
                // A number is written where the heat is reached, if it fits there.
                let at = if degrees.is_some() && there + label.len() <= to { there } else { from };
                if setting.at >= self.axis.from {
                    let room = if degrees.is_none() { cells.len() } else { to.max(at) };
                    if at + label.len() <= room {
                        for (cell, letter) in cells[at..].iter_mut().zip(label.chars()) {
                            *cell = letter;
                        }
                    }
                }
            }
            before = degrees.unwrap_or(i64::MIN);
        }
        cells
    }

    /// Bars in lanes of their name; bars of one name that would overlap get further lanes.
    fn lanes(&self, bars: Vec<(String, Bar)>) -> Vec<Row> {
        let mut lanes: Vec<(String, Vec<Bar>)> = Vec::new();
        let mut order: Vec<String> = Vec::new();
        for (name, bar) in bars {
            if !self.shown(bar.from, bar.to) {
                continue;
            }
            if !order.contains(&name) {
                order.push(name.clone());
            }
            let free = |lane: &&mut (String, Vec<Bar>)| {
                lane.0 == name && lane.1.iter().all(|other| other.to <= bar.from || bar.to <= other.from)
            };
            match lanes.iter_mut().find(free) {
                Some(lane) => lane.1.push(bar),
                None => lanes.push((name, vec![bar])),
            }
        }
        if order.iter().all(|name| name.starts_with("burner")) {
            order.sort();
        }
        lanes.sort_by_key(|(name, _)| order.iter().position(|own| own == name));
        let mut named = String::new();
        let mut rows = Vec::new();
        for (name, mut bars) in lanes {
            bars.sort_by_key(|bar| bar.from);
            let cells = self.draw(&bars);
            rows.push(Row { name: if name == named { String::new() } else { name.clone() }, cells });
            named = name;
        }
        rows
    }

    fn draw(&self, bars: &[Bar]) -> Vec<char> {
        let mut cells = self.empty();
        let fill = if self.unicode { '━' } else { '=' };
        let mut free = 0;
        for bar in bars {
            let from = self.axis.column(bar.from).max(free);
            let to = self.axis.column(bar.to).max(from + 1).min(cells.len());
            let name = super::page::clean(&bar.name);
            let ascii = name.chars().all(|letter| unicode_width::UnicodeWidthChar::width(letter) == Some(1));
            let mut text = vec![bar.letter];
            if ascii && name.chars().count() + 4 <= to.saturating_sub(from) {
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
            free = to;
        }
        cells
    }
}

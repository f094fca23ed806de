//! Shapes and texts of a drawing, escaped.

use std::fmt;

use maud::{Markup, PreEscaped, Render, html};
use unicode_width::UnicodeWidthChar;

use crate::plain::{self, TIED};

/// A drawing that grows shape by shape.
#[derive(Default)]
pub(super) struct Canvas {
    text: String,
}

/// A coordinate, written to a tenth of a pixel.
#[derive(Clone, Copy)]
pub(super) struct N(pub(super) f64);

impl fmt::Display for N {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Adding zero turns -0 into 0.
        write!(f, "{}", (self.0 * 10.0).round() / 10.0 + 0.0)
    }
}

impl Render for N {
    fn render_to(&self, buffer: &mut String) {
        buffer.push_str(&self.to_string());
    }
}

/// Where a text stands from its coordinate.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
}

impl Canvas {
    fn push(&mut self, markup: &Markup) {
        self.text.push_str(&markup.0);
    }

    pub(super) fn append(&mut self, other: Canvas) {
        self.text.push_str(&other.text);
    }

    pub(super) fn finish(self) -> Markup {
        PreEscaped(self.text)
    }

    /// A rectangle; what it is shows when it is pointed at.
    pub(super) fn rect(&mut self, [x, y, width, height]: [f64; 4], class: &str, title: Option<&str>) {
        self.push(&html! {
            rect class=(class) x=(N(x)) y=(N(y)) width=(N(width.max(0.0))) height=(N(height.max(0.0))) {
                @if let Some(title) = title { title { (xml(title)) } }
            }
        });
    }

    pub(super) fn circle(&mut self, [x, y, radius]: [f64; 3], class: &str, title: &str) {
        self.push(&html! {
            circle class=(class) cx=(N(x)) cy=(N(y)) r=(N(radius)) { title { (xml(title)) } }
        });
    }

    pub(super) fn line(&mut self, [x1, y1, x2, y2]: [f64; 4], class: &str) {
        self.push(&html! { line class=(class) x1=(N(x1)) y1=(N(y1)) x2=(N(x2)) y2=(N(y2)) {} });
    }

    pub(super) fn path(&mut self, corners: &[(f64, f64)], class: &str) {
        let d: Vec<String> = corners.iter().map(|(x, y)| format!("{} {}", N(*x), N(*y))).collect();
        if !d.is_empty() {
            self.push(&html! { path class=(class) d=(format!("M{}", d.join("L"))) {} });
        }
    }

    pub(super) fn label(&mut self, x: f64, y: f64, anchor: Anchor, class: &str, text: &str) {
        let anchor = match anchor {
            Anchor::Start => None,
            Anchor::Middle => Some("middle"),
        };
        self.push(&html! { text class=(class) x=(N(x)) y=(N(y)) text-anchor=[anchor] { (xml(text)) } });
    }

    /// A dish's letter in bold, and its name.
    pub(super) fn named(&mut self, x: f64, y: f64, class: &str, letter: char, name: &str) {
        self.push(&html! {
            text class=(class) x=(N(x)) y=(N(y)) { tspan class="letter" { (letter) } " " (xml(name)) }
        });
    }
}

/// Text that may stand in XML: without control characters and the two code points that XML leaves out.
pub(super) fn xml(text: &str) -> String {
    plain::line(text).replace(['\u{fffe}', '\u{ffff}'], "\u{fffd}").replace(TIED, "\u{a0}")
}

/// Bold letters are wider.
pub(super) const BOLD: f64 = 1.15;

/// About how wide a text is drawn, rather too wide than too narrow.
pub(super) fn measure(text: &str, size: f64) -> f64 {
    let letter = |letter: char| match letter.width() {
        Some(0) | None => 0.0,
        Some(1) if letter.is_uppercase() || matches!(letter, 'm' | 'w' | '%' | '@') => 0.8,
        Some(1) if matches!(letter, 'i' | 'j' | 'l' | 'f' | 't' | 'r' | ' ' | ',' | '.' | ':' | '-') => 0.45,
        Some(1) => 0.65,
        Some(_) => 1.3,
    };
    text.chars().map(letter).sum::<f64>() * size
}

/// The text if it fits, else as much of it as does, with a mark where something is missing.
pub(super) fn shorten(text: &str, size: f64, room: f64) -> String {
    if measure(text, size) <= room {
        return text.to_owned();
    }
    let mut short = String::new();
    for letter in text.chars() {
        let longer = format!("{short}{letter}");
        if measure(&longer, size) + size > room {
            break;
        }
        short = longer;
    }
    format!("{}…", short.trim_end())
}

/// Places labels on as few rows as keep them apart; each may begin anywhere that keeps it within `[left, right]`.
///
/// Gives the start and the row of each, in the order given, and the number of rows.
pub(super) fn stack(labels: &[(f64, String)], [left, right]: [f64; 2], size: f64) -> (Vec<(f64, usize)>, usize) {
    let mut rows: Vec<Vec<(f64, f64)>> = Vec::new();
    let mut placed = Vec::new();
    for (x, text) in labels {
        let width = measure(text, size);
        let start = x.min(right - width).max(left);
        let end = start + width + size / 2.0;
        let free = |row: &Vec<(f64, f64)>| row.iter().all(|&(from, to)| end <= from || to <= start);
        let row = rows.iter().position(free).unwrap_or(rows.len());
        if row == rows.len() {
            rows.push(Vec::new());
        }
        rows[row].push((start, end));
        placed.push((start, row));
    }
    (placed, rows.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_that_stand_close_get_rows_of_their_own() {
        let labels: Vec<(f64, String)> = [0.0, 5.0, 90.0, 99.0].map(|x| (x, "18:30".to_owned())).to_vec();
        let (placed, rows) = stack(&labels, [0.0, 100.0], 10.0);
        assert_eq!(rows, 2);
        assert_eq!(placed.iter().map(|(_, row)| *row).collect::<Vec<_>>(), [0, 1, 0, 1]);
        assert!(placed.iter().all(|(x, _)| (0.0..=100.0).contains(x)));
    }

    #[test]
    fn nothing_leaves_a_text_that_xml_forbids() {
        assert_eq!(xml("a\u{0}b\u{ffff}c\nd"), "a b\u{fffd}c d");
        assert!(measure(&shorten("A very long name of a dish", 10.0, 80.0), 10.0) <= 80.0);
    }
}

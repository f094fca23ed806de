//! Drawings as SVG: the chart of an evening, and the racks to scale.
//!
//! Everything is told apart by pattern and label, never by colour alone, so that a print in black and white says the same.

mod blocks;
mod canvas;
mod chart;
mod legend;
mod racks;

use maud::{Markup, PreEscaped, html};

use crate::evening::View;
use crate::evening::chart::{Chart, ChartDay};

pub(crate) use legend::{legend, patterns};
pub(crate) use racks::arrangement;

/// The look of drawings, in terms of the palette.
pub(crate) const STYLE: &str = include_str!("picture.css");

/// Ink on paper: the palette of a drawing by itself, and of a page in light.
pub(crate) const LIGHT: &[(&str, &str)] = &[
    ("--paper", "#ffffff"),
    ("--ink", "#1b1a17"),
    ("--soft", "#57534a"),
    ("--line", "#8d887c"),
    ("--faint", "#d8d4ca"),
    ("--wash", "#eeebe3"),
    ("--accent", "#8a3b12"),
];

/// How a drawing uses its room.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Layout {
    width: f64,
    /// Room for names left of the lanes; without it they stand above them.
    label: f64,
    /// The most minutes that are drawn side by side.
    minutes: i64,
    /// The most that is drawn below each other, without the hours above it.
    height: f64,
}

/// For a desk, a wall and paper on its side: what is drawn in one go fits a page of A4 or Letter,
/// there made smaller by no more than a quarter.
pub(crate) const WIDE: Layout = Layout { width: 1120.0, label: 128.0, minutes: 11 * 60, height: 860.0 };

/// For paper held upright.
pub(crate) const UPRIGHT: Layout = Layout { width: 720.0, label: 92.0, minutes: 11 * 60, height: 860.0 };

/// For a phone.
pub(crate) const NARROW: Layout = Layout { width: 332.0, label: 0.0, minutes: 120, height: f64::MAX };

/// A day's chart, cut into pieces as long as the layout allows; each with its first and last minute.
pub(crate) fn day(view: &View<'_>, day: &ChartDay<'_>, layout: Layout) -> Vec<Markup> {
    chart::pieces(view, day, layout).iter().map(|piece| svg(view, day, layout, piece)).collect()
}

fn svg(view: &View<'_>, day: &ChartDay<'_>, layout: Layout, piece: &chart::Piece<'_>) -> Markup {
    let (drawing, height) = chart::draw(view, day, layout, piece);
    let name = format!("Chart, {}, {} to {}", day.day, view.words.clock(piece.from), view.words.clock(piece.to));
    html! {
        svg class="chart" viewBox=(format!("0 0 {} {}", canvas::N(layout.width), canvas::N(height)))
            width=(canvas::N(layout.width)) height=(canvas::N(height)) role="img" aria-label=(name) { (drawing) }
    }
}

/// The whole chart as a file by itself.
pub(crate) fn file(view: &View<'_>, evening: &Chart<'_>, name: &str) -> String {
    const MARGIN: f64 = 16.0;
    let mut canvas = canvas::Canvas::default();
    let mut y = MARGIN + 22.0;
    canvas.label(MARGIN, y, canvas::Anchor::Start, "title", &canvas::shorten(name, 22.0, WIDE.width));
    y += 14.0;
    let mut parts: Vec<(f64, Markup)> = Vec::new();
    for day in &evening.days {
        for piece in chart::pieces(view, day, WIDE) {
            y += 22.0;
            canvas.label(MARGIN, y, canvas::Anchor::Start, "heading", &day.day);
            y += 10.0;
            let (drawing, height) = chart::draw(view, day, WIDE, &piece);
            parts.push((y, drawing));
            y += height + 6.0;
        }
    }
    let (key, height) = legend::key(evening, WIDE.width);
    parts.push((y + 10.0, key));
    y += 10.0 + height + MARGIN;
    let width = WIDE.width + 2.0 * MARGIN;
    let svg = html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(canvas::N(width)) height=(canvas::N(y))
            viewBox=(format!("0 0 {} {}", canvas::N(width), canvas::N(y))) role="img" aria-labelledby="name" {
            title id="name" { (canvas::xml(name)) }
            style { (PreEscaped(literal(STYLE))) }
            defs { (patterns()) }
            rect class="ground" width="100%" height="100%" {}
            (canvas.finish())
            @for (y, part) in parts {
                g transform=(format!("translate({MARGIN} {})", canvas::N(y))) { (part) }
            }
        }
    };
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{}\n", svg.into_string())
}

/// A style sheet with colours in place of the palette's names: not every program that shows a drawing knows those.
fn literal(style: &str) -> String {
    LIGHT.iter().fold(style.to_owned(), |style, (name, colour)| style.replace(&format!("var({name})"), colour))
}

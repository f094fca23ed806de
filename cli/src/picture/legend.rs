//! What patterns, marks and letters mean.

use maud::{Markup, html};

use super::canvas::{Anchor, Canvas, measure, shorten};
use crate::evening::chart::{Chart, Fill};

/// The patterns that bars are filled with; a document needs them once.
pub(crate) fn patterns() -> Markup {
    html! {
        pattern id="rw-rest" width="7" height="7" patternUnits="userSpaceOnUse" {
            rect width="7" height="7" {}
            circle cx="2" cy="2" r="0.9" {}
            circle cx="5.5" cy="5.5" r="0.9" {}
        }
        pattern id="rw-hold" width="6" height="6" patternUnits="userSpaceOnUse" {
            rect width="6" height="6" {}
            path d="M0 3L6 3" {}
        }
        pattern id="rw-away" width="10" height="10" patternUnits="userSpaceOnUse" {
            rect width="10" height="10" {}
            path class="thin" d="M0 10L10 0" {}
        }
        pattern id="rw-chill" width="8" height="8" patternUnits="userSpaceOnUse" {
            rect width="8" height="8" {}
            path d="M0 8L8 0M0 0L8 8" {}
        }
        pattern id="rw-ramp" width="6" height="6" patternUnits="userSpaceOnUse" {
            rect width="6" height="6" {}
            path d="M-1.5 1.5L1.5 -1.5M0 6L6 0M4.5 7.5L7.5 4.5" {}
        }
    }
}

/// What a mark of a chart looks like.
#[derive(Clone, Copy)]
enum Mark {
    Bar(Fill),
    Away,
    Ramp,
    Air,
    Door,
    Serve,
}

const MARKS: [(Mark, &str); 11] = [
    (Mark::Bar(Fill::Hands), "hands busy"),
    (Mark::Bar(Fill::Cooking), "cooking"),
    (Mark::Bar(Fill::Resting), "resting, rising"),
    (Mark::Bar(Fill::Holding), "kept warm"),
    (Mark::Bar(Fill::Chilling), "chilling"),
    (Mark::Bar(Fill::Waiting), "waiting"),
    (Mark::Away, "cook away"),
    (Mark::Ramp, "oven on its way to a temperature"),
    (Mark::Air, "temperature of the oven"),
    (Mark::Door, "door opens"),
    (Mark::Serve, "a course goes out"),
];

/// The class of a bar.
pub(super) fn class(fill: Fill) -> &'static str {
    match fill {
        Fill::Hands => "hands",
        Fill::Cooking => "bar cooking",
        Fill::Resting => "bar resting",
        Fill::Holding => "bar holding",
        Fill::Chilling => "bar chilling",
        Fill::Waiting => "bar waiting",
    }
}

/// A triangle that points down, its tip at the bottom.
pub(super) fn door(canvas: &mut Canvas, x: f64, y: f64) {
    canvas.path(&[(x - 4.0, y), (x + 4.0, y), (x, y + 8.0), (x - 4.0, y)], "door");
}

fn draw(canvas: &mut Canvas, mark: Mark, x: f64, y: f64) {
    match mark {
        Mark::Bar(fill) => canvas.rect([x, y, 30.0, 14.0], class(fill), None),
        Mark::Away => canvas.rect([x, y, 30.0, 14.0], "away", None),
        Mark::Ramp => canvas.rect([x, y, 30.0, 14.0], "ramp", None),
        Mark::Air => canvas.path(&[(x, y + 13.0), (x + 12.0, y + 3.0), (x + 30.0, y + 3.0)], "air"),
        Mark::Door => door(canvas, x + 15.0, y + 3.0),
        Mark::Serve => canvas.line([x + 15.0, y - 1.0, x + 15.0, y + 15.0], "serve"),
    }
}

/// The marks as a list for a page.
pub(crate) fn legend() -> Markup {
    html! {
        ul class="legend" {
            @for (mark, meaning) in MARKS {
                li {
                    svg class="chart" width="32" height="16" viewBox="-1 -1 32 16" aria-hidden="true" {
                        @let canvas = { let mut canvas = Canvas::default(); draw(&mut canvas, mark, 0.0, 0.0); canvas };
                        (canvas.finish())
                    }
                    (meaning)
                }
            }
        }
    }
}

/// The marks and the letters as a drawing of a width, with its height.
pub(super) fn key(chart: &Chart<'_>, width: f64) -> (Markup, f64) {
    const SIZE: f64 = 13.0;
    let mut canvas = Canvas::default();
    let (mut x, mut y) = (0.0, 0.0);
    for (mark, meaning) in MARKS {
        let room = 38.0 + measure(meaning, SIZE) + 16.0;
        if x + room > width {
            (x, y) = (0.0, y + 24.0);
        }
        draw(&mut canvas, mark, x, y);
        canvas.label(x + 38.0, y + 12.0, Anchor::Start, "key", meaning);
        x += room;
    }
    y += 40.0;
    let columns = 3;
    let column = width / f64::from(columns);
    let rows = chart.key.len().div_ceil(3);
    for (index, (letter, dish)) in chart.key.iter().enumerate() {
        let (x, y) = ((index / rows.max(1)) as f64 * column, y + (index % rows.max(1)) as f64 * 20.0);
        canvas.named(x, y, "key", *letter, &shorten(dish, SIZE, column - 40.0));
    }
    (canvas.finish(), y + rows as f64 * 20.0)
}

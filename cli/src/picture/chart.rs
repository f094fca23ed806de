//! A day's chart: hours across, and what runs in each of them downwards.

use maud::Markup;
use rangewright::models::problem::Minute;

use super::Layout;
use super::blocks::Pencil;
use super::canvas::{Anchor, BOLD, Canvas, measure, stack};
use crate::evening::View;
use crate::evening::chart::{Block, ChartDay};

/// From a minute to another in pixels.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scale {
    pub(super) from: Minute,
    pub(super) to: Minute,
    pub(super) left: f64,
    pub(super) right: f64,
}

impl Scale {
    pub(super) fn x(&self, minute: Minute) -> f64 {
        let minute = minute.clamp(self.from, self.to) - self.from;
        self.left + (self.right - self.left) * minute as f64 / (self.to - self.from).max(1) as f64
    }

    pub(super) fn holds(&self, minute: Minute) -> bool {
        (self.from..=self.to).contains(&minute)
    }

    pub(super) fn meets(&self, from: Minute, to: Minute) -> bool {
        from < self.to && self.from < to
    }
}

/// What is drawn in one go: some hours of a day, and the appliances that stand below each other.
pub(super) struct Piece<'a> {
    pub(super) from: Minute,
    pub(super) to: Minute,
    pub(super) blocks: Vec<&'a Block<'a>>,
}

/// Cuts a day into equal stretches of whole hours, and each where it would grow taller than the layout allows.
pub(super) fn pieces<'a>(view: &View<'_>, day: &'a ChartDay<'a>, layout: Layout) -> Vec<Piece<'a>> {
    let mut pieces = Vec::new();
    for [from, to] in stretches(day, layout.minutes) {
        let pencil = Pencil { view, layout, scale: scale(layout, [from, to]) };
        let (mut blocks, mut height) = (Vec::new(), 0.0);
        for block in &day.blocks {
            let (_, own) = pencil.blocks(&[block], 0.0);
            if height + own > layout.height && !blocks.is_empty() {
                pieces.push(Piece { from, to, blocks: std::mem::take(&mut blocks) });
                height = 0.0;
            }
            // What is not in use in these hours takes no room and needs no piece of its own.
            if own > 0.0 {
                blocks.push(block);
                height += own;
            }
        }
        if !blocks.is_empty() {
            pieces.push(Piece { from, to, blocks });
        }
    }
    pieces
}

fn stretches(day: &ChartDay<'_>, most: Minute) -> Vec<[Minute; 2]> {
    let (from, to) = (day.from.div_euclid(60) * 60, (day.to + 59).div_euclid(60) * 60);
    let to = to.max(from + 60);
    let count = (to - from + most - 1) / most;
    let hours = ((to - from) / 60 + count - 1) / count;
    let all = (0..count).map(|piece| from + piece * hours * 60).map(|start| [start, (start + hours * 60).min(to)]);
    all.filter(|[start, end]| start < end).collect()
}

fn scale(layout: Layout, [from, to]: [Minute; 2]) -> Scale {
    Scale { from, to, left: layout.label.max(2.0), right: layout.width - 8.0 }
}

const HOUR: f64 = 13.0;
const FLAG: f64 = 13.0;
const ROW: f64 = 17.0;

/// Draws a piece of a day; gives its height as well.
pub(super) fn draw(view: &View<'_>, day: &ChartDay<'_>, layout: Layout, piece: &Piece<'_>) -> (Markup, f64) {
    let scale = scale(layout, [piece.from, piece.to]);
    let flags: Vec<_> = day.flags.iter().filter(|flag| scale.holds(flag.at)).collect();
    let labels: Vec<(f64, String)> = flags
        .iter()
        .map(|flag| (scale.x(flag.at), format!("{} {}", view.words.clock(flag.at), crate::words::capital(flag.course))))
        .collect();
    let (placed, rows) = stack(&labels, [0.0, layout.width], FLAG * BOLD);
    let ruler = rows as f64 * ROW + HOUR + 2.0;
    let pencil = Pencil { view, layout, scale };
    let (body, bottom) = pencil.blocks(&piece.blocks, ruler + 8.0);

    let mut canvas = Canvas::default();
    hours(view, &mut canvas, scale, ruler, bottom);
    for ((flag, (x, row)), (_, text)) in flags.iter().zip(placed).zip(&labels) {
        let y = row as f64 * ROW + FLAG;
        let at = scale.x(flag.at);
        canvas.line([at, y + 3.0, at, bottom], "serve");
        canvas.label(x, y, Anchor::Start, "flag", text);
    }
    canvas.append(body);
    (canvas.finish(), bottom + 2.0)
}

/// Lines at the hours, and the time where there is room for it.
fn hours(view: &View<'_>, canvas: &mut Canvas, scale: Scale, ruler: f64, bottom: f64) {
    let mut free = f64::MIN;
    let mut minute = scale.from;
    while minute <= scale.to {
        let x = scale.x(minute);
        let class = if (minute - scale.from) % 60 == 0 { "hour" } else { "half" };
        canvas.line([x, ruler + 4.0, x, bottom], class);
        if class == "hour" {
            let text = view.words.hour(minute);
            let half = measure(&text, HOUR) / 2.0;
            let middle = x.max(half).min(scale.right + 8.0 - half);
            if middle - half > free {
                canvas.label(middle, ruler, Anchor::Middle, "hour", &text);
                free = middle + half + 4.0;
            }
        }
        minute += 30;
    }
}

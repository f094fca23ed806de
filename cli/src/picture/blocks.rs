//! The lanes of a chart: cooks, ovens with their temperature and doors, burners, tops, the counter.

use rangewright::models::problem::Minute;
use rangewright::models::schedule::CavityDay;

use super::Layout;
use super::canvas::{Anchor, BOLD, Canvas, measure, shorten, stack};
use super::chart::Scale;
use super::legend::{class, door};
use crate::evening::chart::{Bar, Block, BlockSort, Fill, Lane, air};
use crate::evening::{View, phrases};
use crate::plain;
use crate::words::capital;

pub(super) struct Pencil<'a> {
    pub(super) view: &'a View<'a>,
    pub(super) layout: Layout,
    pub(super) scale: Scale,
}

const SIZE: f64 = 13.0;
const BAR: f64 = 20.0;
const CURVE: f64 = 26.0;
const DIAL: f64 = 13.0;

impl Pencil<'_> {
    /// All that is in use, from `y` downwards; gives where it ends.
    pub(super) fn blocks(&self, blocks: &[&Block<'_>], mut y: f64) -> (Canvas, f64) {
        let mut canvas = Canvas::default();
        for block in blocks {
            let lanes: Vec<&Lane<'_>> = block.lanes.iter().filter(|lane| self.used(lane)).collect();
            let cavity = block.cavity.filter(|day| !lanes.is_empty() || self.hot(day));
            if lanes.is_empty() && cavity.is_none() {
                continue;
            }
            canvas.line([0.0, y, self.layout.width, y], "rule");
            y += 4.0;
            if block.sort != BlockSort::Hands {
                y += 15.0;
                let name = shorten(&capital(block.name), 14.0 * BOLD, self.layout.width);
                canvas.label(0.0, y, Anchor::Start, "place", &name);
                y += 4.0;
            }
            if let Some(day) = cavity {
                y = self.dial(&mut canvas, day, y);
            }
            for lane in lanes {
                y = self.lane(&mut canvas, lane, y);
            }
            if let Some(day) = cavity {
                y = self.doors(&mut canvas, day, y);
            }
            y += 4.0;
        }
        (canvas, y)
    }

    fn used(&self, lane: &Lane<'_>) -> bool {
        lane.bars.iter().any(|bar| self.scale.meets(bar.from, bar.to))
    }

    /// Whether an oven is on, or switched, within the piece.
    fn hot(&self, day: &CavityDay) -> bool {
        let on = phrases::setting_at(day, self.scale.from).is_some_and(|setting| setting.degrees.is_some());
        on || day.settings.iter().any(|setting| self.scale.holds(setting.at))
    }

    /// The name of a lane, beside it or above it; gives where the lane begins.
    fn name(&self, canvas: &mut Canvas, name: &str, y: f64, height: f64) -> f64 {
        if self.layout.label > 0.0 {
            let name = shorten(name, SIZE, self.layout.label - 12.0);
            canvas.label(8.0, y + height / 2.0 + 4.5, Anchor::Start, "lane", &name);
            return y;
        }
        if name.is_empty() {
            return y;
        }
        canvas.label(2.0, y + 12.0, Anchor::Start, "lane", &shorten(name, SIZE, self.layout.width));
        y + 17.0
    }

    fn lane(&self, canvas: &mut Canvas, lane: &Lane<'_>, y: f64) -> f64 {
        let y = self.name(canvas, &lane.name, y, BAR);
        let bars: Vec<&Bar<'_>> = lane.bars.iter().filter(|bar| self.scale.meets(bar.from, bar.to)).collect();
        for &[gone, back] in lane.away.iter().filter(|[gone, back]| self.scale.meets(*gone, *back)) {
            let (from, to) = (self.scale.x(gone), self.scale.x(back));
            let clock = |minute: Minute| self.view.words.clock_from(gone, minute);
            let what = format!("{}: away, {} to {}", lane.name, clock(gone), clock(back));
            canvas.rect([from, y, to - from, BAR], "away", Some(&what));
        }
        // A name that does not fit its bar may stand beside it, where nothing else is.
        let mut free = self.scale.left;
        let mut callouts: Vec<(f64, String)> = Vec::new();
        for (index, bar) in bars.iter().enumerate() {
            let next = bars.get(index + 1).map_or(self.layout.width, |next| self.scale.x(next.from));
            let (after, named) = self.bar(canvas, bar, y, [free, next]);
            free = after;
            if !named {
                let middle = (self.scale.x(bar.from) + self.scale.x(bar.to)) / 2.0;
                let letter = bar.letter.to_string();
                callouts.push((middle - measure(&letter, DIAL * BOLD) / 2.0, letter));
            }
        }
        self.callouts(canvas, &callouts, y + BAR)
    }

    /// Letters below a lane, each tied to its bar; gives where the lane ends.
    fn callouts(&self, canvas: &mut Canvas, callouts: &[(f64, String)], y: f64) -> f64 {
        if callouts.is_empty() {
            return y + 5.0;
        }
        let (placed, rows) = stack(callouts, [self.scale.left, self.layout.width], DIAL * BOLD);
        for ((start, row), (wanted, letter)) in placed.into_iter().zip(callouts) {
            let half = measure(letter, DIAL * BOLD) / 2.0;
            let top = y + row as f64 * 14.0;
            canvas.line([wanted + half, y, start + half, top + 3.0], "tie");
            canvas.label(start, top + 14.0, Anchor::Start, "callout", letter);
        }
        y + rows as f64 * 14.0 + 7.0
    }

    /// Draws a bar with its label; gives where the room after it begins, and whether it has a label.
    fn bar(&self, canvas: &mut Canvas, bar: &Bar<'_>, y: f64, [free, next]: [f64; 2]) -> (f64, bool) {
        let (from, to) = (self.scale.x(bar.from), self.scale.x(bar.to));
        let width = (to - from).max(1.5);
        let clock = |minute: Minute| self.view.words.clock_from(bar.from, minute);
        let place = if bar.label == bar.dish { String::new() } else { format!(" ({})", bar.label) };
        let note = if bar.note.is_empty() { String::new() } else { format!("; {}", bar.note) };
        let what = format!("{}: {}{place}, {} to {}{note}", bar.dish, bar.title, clock(bar.from), clock(bar.to));
        canvas.rect([from, y, width, BAR], class(bar.fill), Some(&what));
        let middle = y + BAR / 2.0 + 4.5;
        let letter = bar.letter.to_string();
        let letter_fits = measure(&letter, SIZE * BOLD) + 4.0 <= width;
        if bar.fill == Fill::Hands {
            if letter_fits {
                canvas.label(from + width / 2.0, middle, Anchor::Middle, "busy", &letter);
            }
            return (to, letter_fits);
        }
        let label = plain::line(&bar.label);
        let name = measure(&format!("{letter} {label}"), SIZE) + 3.0;
        if name + 7.0 <= width {
            canvas.rect([from + 3.0, y + 2.5, name, BAR - 5.0], "plate", None);
            canvas.named(from + 5.0, middle, "inside", bar.letter, &label);
            return (to, true);
        }
        let beside = if to + name + 8.0 <= next {
            Some(to + 5.0)
        } else {
            Some(from - name - 3.0).filter(|start| *start >= free)
        };
        if let Some(start) = beside {
            canvas.named(start, middle, "beside", bar.letter, &label);
            return (if start > from { start + name } else { to }, true);
        }
        if letter_fits {
            canvas.rect([from + width / 2.0 - 6.5, y + 2.5, 13.0, BAR - 5.0], "plate", None);
            canvas.label(from + width / 2.0, middle, Anchor::Middle, "inside letter", &letter);
        }
        (to, letter_fits)
    }

    /// The temperature as a line, hatched while it is on its way, with what the dial is set to above it.
    fn dial(&self, canvas: &mut Canvas, day: &CavityDay, y: f64) -> f64 {
        let scale = self.scale;
        let before = phrases::setting_at(day, scale.from - 1).filter(|setting| setting.degrees.is_some());
        let changes = day.settings.iter().filter(|setting| scale.holds(setting.at));
        let set = before.into_iter().chain(changes);
        let labels: Vec<(f64, String)> = set
            .map(|setting| (scale.x(setting.at) + 2.0, plain::line(&phrases::dial(self.view, day, setting))))
            .collect();
        let (placed, rows) = stack(&labels, [scale.left, self.layout.width], DIAL * BOLD);
        for ((x, row), (_, text)) in placed.into_iter().zip(&labels) {
            canvas.label(x, y + row as f64 * 14.0 + 10.0, Anchor::Start, "dial", text);
        }
        let top = y + rows as f64 * 14.0 + 2.0;
        let top = if self.layout.label > 0.0 { self.name(canvas, "temperature", top, CURVE) } else { top };
        for (index, setting) in day.settings.iter().enumerate().filter(|(_, setting)| setting.degrees.is_some()) {
            let end = day.settings.get(index + 1).map_or(Minute::MAX, |next| next.at);
            let there = setting.there.min(end);
            if scale.meets(setting.at, end) {
                let (from, to) = (scale.x(setting.at), scale.x(end));
                let clock = |minute: Minute| self.view.words.clock_from(setting.at, minute);
                let until = if end == Minute::MAX { String::new() } else { format!(" to {}", clock(end)) };
                let place = self.view.words.place(&day.place);
                let dial = phrases::dial(self.view, day, setting);
                let what = format!("{place}: {dial}, {}{until}", clock(setting.at));
                canvas.rect([from, top, to - from, CURVE], "set", Some(&what));
            }
            if there > setting.at && scale.meets(setting.at, there) {
                let (from, to) = (scale.x(setting.at), scale.x(there));
                canvas.rect([from, top, to - from, CURVE], "ramp", Some("on its way"));
            }
        }
        canvas.path(&self.curve(day, top), "air");
        top + CURVE + 5.0
    }

    fn curve(&self, day: &CavityDay, top: f64) -> Vec<(f64, f64)> {
        let scale = self.scale;
        let line = air(self.view, day, scale.to);
        let hottest = line.iter().map(|reading| reading.air).fold(1.0, f64::max);
        let coldest = line.iter().map(|reading| reading.air).fold(0.0, f64::min);
        let height = |air: f64| top + (CURVE - 2.0) * (hottest - air) / (hottest - coldest).max(1.0) + 1.0;
        let mut corners: Vec<(f64, f64)> = Vec::new();
        for pair in line.windows(2) {
            let [a, b] = pair else { continue };
            if !scale.meets(a.at, b.at.max(a.at + 1)) {
                continue;
            }
            let at = |minute: Minute| {
                let part = (minute - a.at) as f64 / (b.at - a.at).max(1) as f64;
                a.air + (b.air - a.air) * part.clamp(0.0, 1.0)
            };
            for minute in [a.at.max(scale.from), b.at.min(scale.to)] {
                let corner = (scale.x(minute), height(at(minute)));
                if corners.last() != Some(&corner) {
                    corners.push(corner);
                }
            }
        }
        corners
    }

    fn doors(&self, canvas: &mut Canvas, day: &CavityDay, y: f64) -> f64 {
        let doors: Vec<Minute> = day.doors.iter().map(|door| door.at).filter(|at| self.scale.holds(*at)).collect();
        if doors.is_empty() {
            return y;
        }
        let y = self.name(canvas, "door", y, 10.0);
        for at in doors {
            door(canvas, self.scale.x(at), y + 1.0);
        }
        y + 14.0
    }
}

//! What is done in batches, one after the other, and small equal things that go in as one load.

use super::super::words;
use crate::blocks::defaults;
use crate::feast::Feast;
use crate::kitchen::{ApplianceKind, PanSize};
use crate::menu::{Dish, PanChoice, Step, Touch, Way};
use crate::units::{Interval, spoken_minutes};

/// A thing no longer on either side than this is one of several on a tray, mm: a small mould, a bun tin (common practice,
/// no source).
const SMALL: i64 = 160;

/// Batches of one step are one step as long as all of them: the same place and pan, in order, by one cook. Where nobody
/// stands by, one is taken out and the next put in between them.
pub(super) fn in_turn(mut step: Step, guests: i64) -> Step {
    let count = step.batches.take().unwrap_or(1).max(1);
    if count == 1 {
        return step;
    }
    let usual = defaults(&step.kind, guests);
    let hands = step.way.hands.unwrap_or(usual.hands);
    let load = [step.way.load.unwrap_or(usual.load[0]), step.way.unload.unwrap_or(usual.load[1])];
    let changes = hands == 0 && load != [0, 0];
    let all = |way: &mut Way| {
        let Some(one) = way.takes else { return };
        let times = |minutes: i64| minutes.saturating_mul(count);
        way.takes = Some(Interval { min: times(one.min), max: one.max.map(times) });
        way.early = way.early.map(times);
        way.late = way.late.map(times);
        way.between = way.between.map(|ends| ends.map(times));
        let mut touches = Vec::new();
        for batch in 0..count {
            let from = batch.saturating_mul(one.min);
            for touch in &way.touches {
                let mut at = touch.at;
                loop {
                    touches.push(Touch { at: from.saturating_add(at), every: None, ..touch.clone() });
                    let Some(every) = touch.every.filter(|&every| every > 0) else { break };
                    at = at.saturating_add(every);
                    if at.saturating_add(touch.takes) > one.min || touches.len() > 1_000 {
                        break;
                    }
                }
            }
            if changes && batch > 0 {
                let what = format!("Take batch {batch} of {count} out, put the next in");
                let at = from.saturating_sub(load[1]).max(1);
                touches.push(Touch {
                    what,
                    at,
                    takes: (load[0].saturating_add(load[1])).max(1),
                    every: None,
                    cooks: Vec::new(),
                });
            }
        }
        way.touches = touches;
        way.notes.push(format!("In {count} batches of {} each, one after the other", spoken_minutes(one.min)));
    };
    all(&mut step.way);
    step.ways.iter_mut().for_each(all);
    step
}

/// Small equal things in a size of their own stand side by side on one rack, as one load, if any oven has room for that.
pub(super) fn one_load(mut step: Step, dish: &Dish, feast: &Feast) -> Step {
    let Some(count) = step.pans.filter(|&count| count > 1) else { return step };
    let Some(PanChoice::Size(size)) = step.way.pan else { return step };
    let [width, depth, height] = match size {
        PanSize::Box(sides) => sides,
        PanSize::Round(across, Some(high)) => [across, across, high],
        PanSize::Round(_, None) => return step,
    };
    let rooms = feast.kitchen.places.iter().filter_map(|place| match &place.kind {
        ApplianceKind::Cavity(spec) => Some(spec.inside),
        _ => None,
    });
    let fits = |columns: i64, rows: i64| {
        let [wide, deep] = [columns.saturating_mul(width), rows.saturating_mul(depth)];
        rooms.clone().any(|[w, d, _]| wide <= w && deep <= d || wide <= d && deep <= w)
    };
    let grid = (1..=count).map(|columns| (columns, (count + columns - 1) / columns)).find(|&(c, r)| fits(c, r));
    let Some((columns, rows)) = grid.filter(|_| width <= SMALL && depth <= SMALL) else { return step };
    let title = words::title(&step, dish, &defaults(&step.kind, feast.menu.guests));
    step.title = Some(format!("{title}, all {count} together"));
    step.pans = None;
    step.way.pan = Some(PanChoice::Size(PanSize::Box([columns * width, rows * depth, height])));
    step.way.weight = step.way.weight.map(|each| each.saturating_mul(count));
    step.way.notes.push(format!("{count} of {} side by side, {columns} by {rows}", size.said(feast.menu.units)));
    step
}

//! The dynamic program: costs flow from the leaves to the root, choices back from the root to the leaves.

use crate::assignment::Choice;
use crate::instance::{Instance, Time};

use super::slide::{Gap, Slider, Strip};
use super::tree::{Edge, least_gap};
use super::{FORBIDDEN, Tariff, Through, Timetables, UNREACHED};

/// What a sweep leaves behind for tracing, and working memory.
#[derive(Default)]
pub(crate) struct Scratch {
    nodes: Vec<NodeCosts>,
    slider: Slider,
    merged: Vec<i64>,
    served: Vec<Time>,
}

/// Costs of one node, for each mode of its step.
#[derive(Default)]
struct NodeCosts {
    /// Own toll and all that comes in at the start, except from the parent.
    start: Vec<Vec<i64>>,
    /// Own toll, the sink's waiting, and all that hangs on the end, except the parent.
    end: Vec<Vec<i64>>,
    /// The subtree's cost, over the minutes of the side where the parent hangs (the end, for the root).
    value: Vec<Vec<i64>>,
    /// The same with the link to the parent added: for each recipe, over the parent's minutes.
    up: Vec<Vec<i64>>,
    /// From the rest of the tree by way of the parent: for each recipe, over this step's minutes.
    down: Vec<Vec<i64>>,
}

fn strip<'a>(lo: Time, cost: &'a [i64]) -> Strip<'a> {
    Strip { lo, cost }
}

/// Fits a list of lists to a number of them, keeping their memory.
fn resize(lists: &mut Vec<Vec<i64>>, count: usize) {
    lists.resize_with(count, Vec::new);
}

/// Adds a message to the costs of one side.
fn add(costs: &mut [i64], message: &[i64]) {
    for (cost, &more) in costs.iter_mut().zip(message) {
        *cost += more;
    }
}

fn settle(costs: &mut [i64]) {
    for cost in costs {
        if *cost >= UNREACHED {
            *cost = FORBIDDEN;
        }
    }
}

fn duration(instance: &Instance<'_>, step: usize, mode: usize) -> Gap {
    let mode = &instance.steps[step].modes[mode];
    Gap { least: mode.min, most: mode.max, free: mode.min, rate: mode.wait }
}

/// Works out all costs towards the root.
pub(super) fn sweep(
    timetables: &Timetables,
    instance: &Instance<'_>,
    component: usize,
    served: &[Time],
    tariff: &Tariff,
    scratch: &mut Scratch,
) {
    let nodes = &timetables.components[component].nodes;
    scratch.served.clear();
    scratch.served.extend_from_slice(served);
    if scratch.nodes.len() < nodes.len() {
        scratch.nodes.resize_with(nodes.len(), NodeCosts::default);
    }
    for (index, node) in nodes.iter().enumerate() {
        let modes = instance.steps[node.step].modes.len();
        let (before, rest) = scratch.nodes.split_at_mut(index);
        let own = &mut rest[0];
        resize(&mut own.start, modes);
        resize(&mut own.end, modes);
        resize(&mut own.value, modes);
        for mode in 0..modes {
            let toll = &tariff.tolls[timetables.first_slot[node.step] + mode];
            own.start[mode].clone_from(&toll.start);
            own.end[mode].clone_from(&toll.end);
            for &child in &node.at_start {
                add(&mut own.start[mode], message_up(nodes[child].parent.as_ref(), &before[child].up, mode));
            }
            for &child in &node.at_end {
                add(&mut own.end[mode], message_up(nodes[child].parent.as_ref(), &before[child].up, mode));
            }
            serve(timetables, instance, node.step, served, toll.end_lo, &mut own.end[mode]);
            settle(&mut own.start[mode]);
            settle(&mut own.end[mode]);
            let towards_end = node.parent.as_ref().is_none_or(|edge| edge.child_first);
            let gap = duration(instance, node.step, mode);
            let (scale, barriers) = (timetables.scale, &toll.barriers);
            let (start, end) = (strip(toll.start_lo, &own.start[mode]), strip(toll.end_lo, &own.end[mode]));
            let value = &mut own.value[mode];
            if towards_end {
                value.resize(end.cost.len(), 0);
                scratch.slider.forward(start, gap, scale, barriers, end.lo, value);
                add(value, end.cost);
            } else {
                value.resize(start.cost.len(), 0);
                scratch.slider.backward(end, gap, scale, barriers, start.lo, value);
                add(value, start.cost);
            }
            settle(value);
        }
        if let Some(edge) = &node.parent {
            let memory = (&mut scratch.slider, &mut scratch.merged);
            let values = std::mem::take(&mut own.value);
            pass(
                timetables,
                instance,
                edge,
                edge.child_first,
                &edge.up.recipes,
                node.step,
                nodes[edge.node].step,
                &values,
                &mut own.up,
                memory,
            );
            own.value = values;
        }
    }
}

fn message_up<'a>(edge: Option<&Edge>, up: &'a [Vec<i64>], mode: usize) -> &'a [i64] {
    edge.map_or(&[], |edge| &up[edge.up.of[mode]])
}

/// Adds what waiting for the serving costs, and forbids ends from which it cannot be served.
fn serve(timetables: &Timetables, instance: &Instance<'_>, step: usize, served: &[Time], lo: Time, costs: &mut [i64]) {
    let Some((course, rate)) = instance.steps[step].sink else { return };
    let minute = served[course];
    let together = instance.courses[course].together;
    for (index, cost) in costs.iter_mut().enumerate() {
        let wait = minute - (lo + index as Time);
        *cost += if (0..=together).contains(&wait) { timetables.scale * rate.cost(wait) } else { FORBIDDEN };
    }
}

/// Passes costs along a link, from `source` to `target`; `ahead`: from the link's earlier step to its later one.
#[allow(clippy::too_many_arguments)]
fn pass(
    timetables: &Timetables,
    instance: &Instance<'_>,
    edge: &Edge,
    ahead: bool,
    recipes: &[Vec<(usize, Time)>],
    source: usize,
    target: usize,
    values: &[Vec<i64>],
    messages: &mut Vec<Vec<i64>>,
    (slider, merged): (&mut Slider, &mut Vec<i64>),
) {
    let link = &instance.links[edge.link];
    let windows = &timetables.windows;
    let (from, to) = match ahead {
        true => (windows.end[source], windows.start[target]),
        false => (windows.start[source], windows.end[target]),
    };
    let minutes = (to.hi - to.lo + 1).max(0) as usize;
    resize(messages, recipes.len());
    for (recipe, message) in recipes.iter().zip(messages.iter_mut()) {
        message.clear();
        message.resize(minutes, FORBIDDEN);
        for group in recipe.chunk_by(|a, b| a.1 == b.1) {
            let best = match group {
                [(mode, _)] => &values[*mode],
                _ => {
                    merged.clone_from(&values[group[0].0]);
                    for &(mode, _) in &group[1..] {
                        merged.iter_mut().zip(&values[mode]).for_each(|(best, &value)| *best = value.min(*best));
                    }
                    &*merged
                }
            };
            let gap = Gap { least: group[0].1, most: link.max, free: link.min, rate: link.wait };
            let mut costs = std::mem::take(&mut slider.spare);
            costs.clear();
            costs.resize(minutes, FORBIDDEN);
            if ahead {
                slider.forward(strip(from.lo, best), gap, timetables.scale, &[], to.lo, &mut costs);
            } else {
                slider.backward(strip(from.lo, best), gap, timetables.scale, &[], to.lo, &mut costs);
            }
            message.iter_mut().zip(&costs).for_each(|(best, &cost)| *best = cost.min(*best));
            slider.spare = costs;
        }
    }
}

/// The least cost at the root, and the choices that lead to it.
pub(super) fn trace(
    timetables: &Timetables,
    instance: &Instance<'_>,
    component: usize,
    tariff: &Tariff,
    scratch: &Scratch,
) -> Option<(i64, Vec<(usize, Choice)>)> {
    let root = &scratch.nodes[timetables.components[component].nodes.len() - 1];
    let mut best = (UNREACHED, 0, 0);
    for (mode, value) in root.value.iter().enumerate().take(root.start.len()) {
        for (index, &cost) in value.iter().enumerate() {
            if cost < best.0 {
                best = (cost, mode, index);
            }
        }
    }
    let (cost, mode, index) = best;
    (cost < UNREACHED).then(|| (cost, trace_from(timetables, instance, component, tariff, scratch, mode, index)))
}

/// The choices of a cheapest timetable whose root ends, in this mode, at this index of its window.
pub(super) fn trace_from(
    timetables: &Timetables,
    instance: &Instance<'_>,
    component: usize,
    tariff: &Tariff,
    scratch: &Scratch,
    mode: usize,
    index: usize,
) -> Vec<(usize, Choice)> {
    let nodes = &timetables.components[component].nodes;
    let scale = timetables.scale;
    let mut choices = Vec::with_capacity(nodes.len());
    let root = nodes.len() - 1;
    let mut open = vec![(root, mode, timetables.windows.end[nodes[root].step].lo + index as Time, true)];
    while let Some((at, mode, minute, is_end)) = open.pop() {
        let node = &nodes[at];
        let own = &scratch.nodes[at];
        let toll = &tariff.tolls[timetables.first_slot[node.step] + mode];
        let choice = stretch(instance, own, toll, scale, node.step, mode, minute, is_end);
        choices.push((node.step, choice));
        for (children, side) in [(&node.at_start, choice.start), (&node.at_end, choice.end)] {
            for &child in children {
                let Some(edge) = &nodes[child].parent else { continue };
                let (child_mode, child_minute) =
                    across(timetables, instance, edge, nodes[child].step, &scratch.nodes[child], mode, side);
                open.push((child, child_mode, child_minute, edge.child_first));
            }
        }
    }
    choices.sort_unstable_by_key(|choice| choice.0);
    choices
}

/// The other side of a step of which one side is known: the latest start, or the earliest end, that costs least.
#[allow(clippy::too_many_arguments)]
fn stretch(
    instance: &Instance<'_>,
    own: &NodeCosts,
    toll: &super::Toll,
    scale: i64,
    step: usize,
    mode: usize,
    minute: Time,
    is_end: bool,
) -> Choice {
    let gap = duration(instance, step, mode);
    let (lo, costs) = if is_end { (toll.start_lo, &own.start[mode]) } else { (toll.end_lo, &own.end[mode]) };
    let mut best = (i64::MAX, minute);
    let span = gap.most.min(costs.len() as Time + (lo - minute).abs());
    for minutes in gap.least..=span {
        let other = if is_end { minute - minutes } else { minute + minutes };
        let Some(&cost) = usize::try_from(other - lo).ok().and_then(|index| costs.get(index)) else { continue };
        let (start, end) = if is_end { (other, minute) } else { (minute, other) };
        if toll.barriers.iter().any(|&barrier| start <= barrier && barrier < end) {
            break;
        }
        let cost = cost + scale * gap.rate.cost(minutes - gap.free);
        if cost < best.0 {
            best = (cost, other);
        }
    }
    let (start, end) = if is_end { (best.1, minute) } else { (minute, best.1) };
    Choice { mode, start, end }
}

/// Mode and minute of a child, given its parent's.
#[allow(clippy::too_many_arguments)]
fn across(
    timetables: &Timetables,
    instance: &Instance<'_>,
    edge: &Edge,
    child: usize,
    own: &NodeCosts,
    parent_mode: usize,
    minute: Time,
) -> (usize, Time) {
    let link = &instance.links[edge.link];
    let window = if edge.child_first { timetables.windows.end[child] } else { timetables.windows.start[child] };
    let recipe = &edge.up.recipes[edge.up.of[parent_mode]];
    debug_assert!(recipe.iter().all(|&(mode, least)| match edge.child_first {
        true => least_gap(instance, edge.link, mode, parent_mode) == Some(least),
        false => least_gap(instance, edge.link, parent_mode, mode) == Some(least),
    }));
    let mut best = (i64::MAX, 0, minute);
    for &(mode, least) in recipe {
        let most =
            i64::from(link.max).min(i64::from((window.hi - minute).abs().max((minute - window.lo).abs()))) as Time;
        for gap in least..=most {
            let other = if edge.child_first { minute - gap } else { minute + gap };
            let Some(&cost) = usize::try_from(other - window.lo).ok().and_then(|index| own.value[mode].get(index))
            else {
                continue;
            };
            let cost = cost + timetables.scale * link.wait.cost(gap - link.min);
            if cost < best.0 {
                best = (cost, mode, other);
            }
        }
    }
    (best.1, best.2)
}

/// After a sweep: the least cost through every start and end.
pub(super) fn through(
    timetables: &Timetables,
    instance: &Instance<'_>,
    component: usize,
    tariff: &Tariff,
    scratch: &mut Scratch,
) -> Through {
    let nodes = &timetables.components[component].nodes;
    let scale = timetables.scale;
    let mut answer = Through::default();
    for index in (0..nodes.len()).rev() {
        let node = &nodes[index];
        let first = timetables.first_slot[node.step];
        let modes = instance.steps[node.step].modes.len();
        let mut outward: Vec<(Vec<i64>, Vec<i64>)> = Vec::with_capacity(modes);
        for mode in 0..modes {
            let toll = &tariff.tolls[first + mode];
            let own = &mut scratch.nodes[index];
            if let Some(edge) = &node.parent {
                let message = &own.down[edge.down.of[mode]];
                let side = if edge.child_first { &mut own.end[mode] } else { &mut own.start[mode] };
                add(side, message);
                settle(side);
            }
            let gap = duration(instance, node.step, mode);
            let (start, end) = (strip(toll.start_lo, &own.start[mode]), strip(toll.end_lo, &own.end[mode]));
            let mut starts = vec![0; start.cost.len()];
            let mut ends = vec![0; end.cost.len()];
            scratch.slider.forward(start, gap, scale, &toll.barriers, end.lo, &mut ends);
            scratch.slider.backward(end, gap, scale, &toll.barriers, start.lo, &mut starts);
            outward.push((starts.clone(), ends.clone()));
            add(&mut starts, start.cost);
            add(&mut ends, end.cost);
            settle(&mut starts);
            settle(&mut ends);
            answer.slots.push((first + mode, starts, ends));
        }
        for at_end in [false, true] {
            let children = if at_end { &node.at_end } else { &node.at_start };
            for &child in children {
                let Some(edge) = &nodes[child].parent else { continue };
                // All that meets at this side but what comes from this child.
                let mut values: Vec<Vec<i64>> = Vec::with_capacity(modes);
                for (mode, (starts, ends)) in outward.iter().enumerate() {
                    let toll = &tariff.tolls[first + mode];
                    let (mut value, beyond) = match at_end {
                        true => (toll.end.clone(), ends),
                        false => (toll.start.clone(), starts),
                    };
                    add(&mut value, beyond);
                    if at_end {
                        serve(timetables, instance, node.step, &scratch.served, toll.end_lo, &mut value);
                    }
                    for &sibling in children.iter().filter(|&&sibling| sibling != child) {
                        add(&mut value, message_up(nodes[sibling].parent.as_ref(), &scratch.nodes[sibling].up, mode));
                    }
                    if let Some(edge) = node.parent.as_ref().filter(|edge| edge.child_first == at_end) {
                        add(&mut value, &scratch.nodes[index].down[edge.down.of[mode]]);
                    }
                    settle(&mut value);
                    values.push(value);
                }
                let mut down = std::mem::take(&mut scratch.nodes[child].down);
                let memory = (&mut scratch.slider, &mut scratch.merged);
                pass(
                    timetables,
                    instance,
                    edge,
                    !edge.child_first,
                    &edge.down.recipes,
                    node.step,
                    nodes[child].step,
                    &values,
                    &mut down,
                    memory,
                );
                scratch.nodes[child].down = down;
            }
        }
    }
    answer.slots.sort_unstable_by_key(|slot| slot.0);
    answer
}

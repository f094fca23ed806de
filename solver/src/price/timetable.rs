//! The cheapest timetable of a component under prices, by dynamic programming.
//!
//! Every price splits into a part for the start of a step and a part for its end, so a step over `[s, e)` costs
//! `start(s) + end(e)` and what its minutes beyond the least cost. A component of `n` steps takes one pass over the minutes for
//! each step, mode and link. All costs are scaled integers: the least cost is exact.

use super::component::{Component, gap};
use super::domain::{Domain, Way, Ways};
use super::row::{Row, Side};
use super::slide::add;
use super::slide::{Costs, Reach, Slide};
use super::{NEVER, SCALE};
use crate::assignment::Choice;
use crate::instance::{During, Instance, Mode, Time};

/// For one way: prices of starting and ending, and the least costs around each start and each end.
#[derive(Clone, Debug, Default)]
struct Stage {
    /// What starting costs without prices: nothing, or [`NEVER`].
    start_base: Costs,
    /// What ending costs without prices: the mode's cost and, for a sink, standing until the serving.
    end_base: Costs,
    start_price: Costs,
    end_price: Costs,
    /// For each end the earliest start without a minute in between that lacks something; empty if that never matters.
    clear: Vec<Time>,
    /// The least cost of everything up to a start, its price included.
    to_start: Costs,
    /// The least cost of everything up to an end, its price included.
    to_end: Costs,
    /// The least cost of everything after an end, up to the sink.
    from_end: Costs,
    /// The least cost of everything after a start.
    from_start: Costs,
}

/// Minutes taken away from starts or ends of a way, for good.
#[derive(Clone, Debug, Default)]
pub(super) struct Marks {
    from: Time,
    closed: Vec<bool>,
}

impl Marks {
    /// Marks a minute among `first..=last`.
    pub(super) fn close(&mut self, minute: Time, first: Time, last: Time) {
        if self.closed.is_empty() {
            self.from = first;
            self.closed.resize(usize::try_from(last - first + 1).unwrap_or(0), false);
        }
        if let Some(mark) = usize::try_from(minute - self.from).ok().and_then(|index| self.closed.get_mut(index)) {
            *mark = true;
        }
    }

    /// Whether the minute is taken away.
    pub(super) fn is_closed(&self, minute: Time) -> bool {
        usize::try_from(minute - self.from).ok().and_then(|index| self.closed.get(index)).copied().unwrap_or(false)
    }
}

/// For each way the starts and ends that the least cost through them rules out.
#[derive(Clone, Debug, Default)]
pub(super) struct Closed {
    pub(super) start: Vec<Marks>,
    pub(super) end: Vec<Marks>,
}

/// Dynamic programs over all components, with their work room.
pub(super) struct Timetables<'i, 'p> {
    instance: &'i Instance<'p>,
    stages: Vec<Stage>,
    slide: Slide,
    room: Costs,
}

impl<'i, 'p> Timetables<'i, 'p> {
    pub(super) fn new(instance: &'i Instance<'p>, ways: &Ways) -> Self {
        Timetables {
            instance,
            stages: vec![Stage::default(); ways.of.len()],
            slide: Slide::default(),
            room: Costs::default(),
        }
    }

    /// Lays out the windows of a node, and closes the minutes in which a step alone asks for more hands than there are.
    pub(super) fn lay_out(&mut self, ways: &Ways, domain: &Domain, served: &[Time], closed: &Closed) {
        for (way, stage) in self.stages.iter_mut().enumerate() {
            let (step, mode) = ways.of[way];
            let (starts, ends) = (domain.start[step], domain.end[step]);
            let source = &self.instance.steps[step].modes[mode];
            stage.start_base.reset(starts.lo.max(source.ready), starts.hi, 0);
            stage.end_base.reset(ends.lo, ends.hi, source.cost * SCALE);
            if let Some((course, rate)) = self.instance.steps[step].sink {
                for (end, cost) in (ends.lo..).zip(&mut stage.end_base.at) {
                    *cost = if end > served[course] { NEVER } else { *cost + rate.cost(served[course] - end) * SCALE };
                }
            }
            lack_of_resources(self.instance, stage, source);
            close(&mut stage.start_base, closed.start.get(way));
            close(&mut stage.end_base, closed.end.get(way));
        }
    }

    /// Takes prices in: they are scaled and not negative, one for each row.
    pub(super) fn price(&mut self, rows: &[Row], prices: &[i64]) {
        for stage in &mut self.stages {
            stage.start_price.clone_from(&stage.start_base);
            stage.end_price.clone_from(&stage.end_base);
        }
        // Differences first, summed up afterwards: a term costs two touches, however long it is.
        let mut changes: Vec<(Way, Side, usize, i64)> = Vec::new();
        for (row, &price) in rows.iter().zip(prices).filter(|(_, price)| **price != 0) {
            for term in &row.terms {
                let stage = &self.stages[term.way];
                let costs = if term.side == Side::Start { &stage.start_price } else { &stage.end_price };
                let length = costs.at.len() as Time;
                let first = (term.first - costs.from).clamp(0, length) as usize;
                let last = (term.last + 1 - costs.from).clamp(0, length) as usize;
                if first < last {
                    changes.push((term.way, term.side, first, term.times * price));
                    changes.push((term.way, term.side, last, -term.times * price));
                }
            }
        }
        changes.sort_unstable();
        for change in changes.chunk_by(|a, b| (a.0, a.1) == (b.0, b.1)) {
            let stage = &mut self.stages[change[0].0];
            let costs = if change[0].1 == Side::Start { &mut stage.start_price } else { &mut stage.end_price };
            let mut sum = 0;
            let mut next = change.iter().peekable();
            for (index, cost) in costs.at.iter_mut().enumerate() {
                while let Some(change) = next.next_if(|change| change.2 == index) {
                    sum += change.3;
                }
                *cost = add(*cost, sum);
            }
        }
    }

    /// The least cost of a component; none if nothing is allowed. [`Timetables::best`] then tells the choices that have it.
    pub(super) fn cheapest(&mut self, ways: &Ways, component: &Component, domain: &Domain) -> Option<i64> {
        for index in 0..component.steps.len() {
            self.fill(ways, component, index, domain);
        }
        let sink = *component.steps.last()?;
        let open = ways.of_step(sink).filter(|&way| domain.open[way]);
        let cost = open.filter_map(|way| self.stages[way].to_end.at.iter().min()).min()?;
        (*cost < NEVER).then_some(*cost)
    }

    /// After [`Timetables::cheapest`]: up to `most` timetables that cost less than `limit`, the cheapest first, each with
    /// another end.
    pub(super) fn best(
        &self,
        ways: &Ways,
        component: &Component,
        domain: &Domain,
        limit: i64,
        most: usize,
    ) -> Vec<Vec<Choice>> {
        let Some(&sink) = component.steps.last() else { return Vec::new() };
        let open = ways.of_step(sink).filter(|&way| domain.open[way]);
        let ends = open.flat_map(|way| self.stages[way].to_end.iter().map(move |(end, cost)| (cost, way, end)));
        let mut ends: Vec<(i64, Way, Time)> = ends.filter(|end| end.0 < limit).collect();
        ends.sort_unstable();
        let mut taken: Vec<Time> = Vec::new();
        let mut found = Vec::new();
        for (_, way, end) in ends {
            if taken.len() == most {
                break;
            }
            if !taken.contains(&end) {
                taken.push(end);
                let mut choices = vec![Choice { mode: 0, start: 0, end: 0 }; component.steps.len()];
                self.trace(ways, component, domain, component.steps.len() - 1, (way, end), &mut choices);
                found.push(choices);
            }
        }
        found
    }

    /// Works out the least cost up to every start and every end of a step.
    fn fill(&mut self, ways: &Ways, component: &Component, index: usize, domain: &Domain) {
        let step = component.steps[index];
        for way in ways.of_step(step).filter(|&way| domain.open[way]) {
            let mut stage = std::mem::take(&mut self.stages[way]);
            stage.to_start.clone_from(&stage.start_price);
            for &earlier in &component.before[index] {
                self.arrive(ways, component.steps[earlier], way, domain, &mut stage.to_start);
            }
            stage.to_end.reset_like(&stage.end_price, NEVER);
            let clear = (!stage.clear.is_empty()).then_some(stage.clear.as_slice());
            self.slide.forward(&stage.to_start, &mut stage.to_end, length(self.instance, ways, way), clear);
            stage.to_end.add(&stage.end_price);
            self.stages[way] = stage;
        }
    }

    /// Adds the least cost of the branch that comes through a step before.
    fn arrive(&mut self, ways: &Ways, before: usize, way: Way, domain: &Domain, to_start: &mut Costs) {
        let mut arrival = std::mem::take(&mut self.room);
        arrival.reset_like(to_start, NEVER);
        for other in ways.of_step(before).filter(|&other| domain.open[other]) {
            if let Some(reach) = gap(self.instance, ways.of[other], ways.of[way]) {
                self.slide.forward(&self.stages[other].to_end, &mut arrival, reach, None);
            }
        }
        to_start.add(&arrival);
        self.room = arrival;
    }

    /// Walks back from an end, writing down the choices.
    fn trace(
        &self,
        ways: &Ways,
        component: &Component,
        domain: &Domain,
        index: usize,
        (way, end): (Way, Time),
        choices: &mut [Choice],
    ) {
        let mode = ways.of[way].1;
        let stage = &self.stages[way];
        let reach = length(self.instance, ways, way);
        let clear = stage.clear.get((end - stage.end_price.from) as usize).copied().unwrap_or(Time::MIN);
        let first = (end - reach.max).max(clear).max(stage.to_start.from);
        let starts =
            (first..=end - reach.min).map(|start| (add(stage.to_start.get(start), reach.cost(end - start)), start));
        // Of equal ones the latest, so that less is begun early.
        let Some((_, start)) = starts.min_by_key(|&(cost, start)| (cost, -start)) else { return };
        choices[index] = Choice { mode, start, end };
        for &earlier in &component.before[index] {
            let mut best: Option<(i64, Way, Time)> = None;
            for other in ways.of_step(component.steps[earlier]).filter(|&other| domain.open[other]) {
                let Some(reach) = gap(self.instance, ways.of[other], ways.of[way]) else { continue };
                let to_end = &self.stages[other].to_end;
                let first = start.saturating_sub(reach.max).max(to_end.from);
                for end in (first..=(start - reach.min).min(to_end.last())).rev() {
                    let cost = add(to_end.get(end), reach.cost(start - end));
                    if best.is_none_or(|(least, ..)| cost < least) {
                        best = Some((cost, other, end));
                    }
                }
            }
            if let Some((_, other, end)) = best {
                self.trace(ways, component, domain, earlier, (other, end), choices);
            }
        }
    }

    /// After [`Timetables::cheapest`]: calls back with the least cost of a timetable through every start and every end, in
    /// two parts: up to it and after it.
    pub(super) fn through(
        &mut self,
        ways: &Ways,
        component: &Component,
        domain: &Domain,
        mut tell: impl FnMut(Way, Side, &Costs, &Costs),
    ) {
        for index in (0..component.steps.len()).rev() {
            let step = component.steps[index];
            for way in ways.of_step(step).filter(|&way| domain.open[way]) {
                let mut stage = std::mem::take(&mut self.stages[way]);
                stage.from_end.reset_like(&stage.to_end, if index + 1 == component.steps.len() { 0 } else { NEVER });
                if let Some(after) = component.before.iter().position(|before| before.contains(&index)) {
                    self.leave(ways, component, (index, after), way, domain, &mut stage.from_end);
                }
                // From a start: over all ends, their own cost and all that follows.
                let mut onward = std::mem::take(&mut self.room);
                onward.clone_from(&stage.from_end);
                onward.add(&stage.end_price);
                stage.from_start.reset_like(&stage.to_start, NEVER);
                let reach = length(self.instance, ways, way);
                if stage.clear.is_empty() {
                    self.slide.backward(&onward, &mut stage.from_start, reach);
                } else {
                    backward_clear(&onward, &mut stage.from_start, reach, &stage.clear);
                }
                self.room = onward;
                tell(way, Side::Start, &stage.to_start, &stage.from_start);
                tell(way, Side::End, &stage.to_end, &stage.from_end);
                self.stages[way] = stage;
            }
        }
    }

    /// The least cost of all that follows an end, through the step after it and the other branches that join there.
    fn leave(
        &mut self,
        ways: &Ways,
        component: &Component,
        (index, after): (usize, usize),
        way: Way,
        domain: &Domain,
        from_end: &mut Costs,
    ) {
        for next in ways.of_step(component.steps[after]).filter(|&next| domain.open[next]) {
            let Some(reach) = gap(self.instance, ways.of[way], ways.of[next]) else { continue };
            let mut onward = self.stages[next].start_price.clone();
            for &other in component.before[after].iter().filter(|&&other| other != index) {
                self.arrive(ways, component.steps[other], next, domain, &mut onward);
            }
            onward.add(&self.stages[next].from_start);
            self.slide.backward(&onward, from_end, reach);
        }
    }
}

/// Closes the starts and ends of a way at which it alone asks for more than there is.
fn lack_of_resources(instance: &Instance<'_>, stage: &mut Stage, source: &Mode) {
    let mut throughout = Vec::new();
    for need in &source.needs {
        let (capacity, amount) = (&instance.resources[need.resource].capacity, need.amount);
        match need.during {
            During::FromStart { offset, minutes } => {
                for (start, cost) in (stage.start_base.from..).zip(&mut stage.start_base.at) {
                    if capacity.least(start + offset, start + offset + minutes) < amount {
                        *cost = NEVER;
                    }
                }
            }
            During::BeforeEnd { minutes } => {
                for (end, cost) in (stage.end_base.from..).zip(&mut stage.end_base.at) {
                    if capacity.least(end - minutes, end) < amount {
                        *cost = NEVER;
                    }
                }
            }
            During::Whole if capacity.varies() || capacity.most() < amount => throughout.push((capacity, amount)),
            During::Whole => {}
        }
    }
    stage.clear.clear();
    if throughout.is_empty() {
        return;
    }
    let (mut clear, mut minute) = (stage.start_base.from, stage.start_base.from);
    for end in stage.end_base.from..=stage.end_base.last() {
        while minute < end {
            if throughout.iter().any(|&(capacity, amount)| capacity.at(minute) < amount) {
                clear = minute + 1;
            }
            minute += 1;
        }
        stage.clear.push(clear);
    }
}

/// The minutes of a way, and what those beyond the least cost.
fn length(instance: &Instance<'_>, ways: &Ways, way: Way) -> Reach {
    let (step, mode) = ways.of[way];
    let mode = &instance.steps[step].modes[mode];
    Reach { min: mode.min, max: mode.max, base: mode.min, rate: mode.wait }
}

/// As [`Slide::backward`], but only over starts that are clear for the end. Such steps are short: every pair is tried.
fn backward_clear(onward: &Costs, from_start: &mut Costs, reach: Reach, clear: &[Time]) {
    for (index, (end, cost)) in onward.iter().enumerate().filter(|(_, (_, cost))| *cost < NEVER) {
        let first = (end - reach.max).max(clear[index]).max(from_start.from);
        for start in first..=(end - reach.min).min(from_start.last()) {
            let least = &mut from_start.at[(start - from_start.from) as usize];
            *least = (*least).min(add(cost, reach.cost(end - start)));
        }
    }
}

/// Closes the minutes that are marked.
fn close(costs: &mut Costs, marks: Option<&Marks>) {
    let Some(marks) = marks else { return };
    for (minute, cost) in (costs.from..).zip(&mut costs.at) {
        if marks.is_closed(minute) {
            *cost = NEVER;
        }
    }
}

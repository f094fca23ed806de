//! The cheapest way to put a path of steps into what is booked, by dynamic programming over (step, mode, minute).

use super::frames::Frames;
use super::ledger::Ledger;
use super::multipliers::Multipliers;
use super::penalties::{Force, NEVER, Penalties, SCALE};
use crate::assignment::Choice;
use crate::instance::{Rate, Span, Time};

/// What one insertion has to go by.
#[derive(Clone, Copy)]
pub(super) struct Setting<'a> {
    pub(super) frames: &'a Frames,
    pub(super) served: &'a [Time],
    /// Push others out of the way, at a price.
    pub(super) force: Option<Force<'a>>,
    /// What resources cost beside being free.
    pub(super) prices: Option<&'a Multipliers>,
    /// A step and mode not to be used this time.
    pub(super) taboo: Option<(usize, usize)>,
    /// For each step of the path what each minute of a later start costs beside: a push to try something else.
    pub(super) tilts: &'a [i64],
    /// Among equally cheap minutes the late ones.
    pub(super) late: bool,
}

/// Buffers of the dynamic program, kept from one insertion to the next.
#[derive(Default)]
pub(super) struct PathPlanner {
    layers: Vec<Layer>,
    merged: Vec<i64>,
    slide: Slide,
}

/// One step of the path.
#[derive(Default)]
struct Layer {
    step: usize,
    starts: Option<(Span, Span)>,
    modes: Vec<Stage>,
}

/// One mode of it: the least cost of the path up to its start, and up to its end.
#[derive(Default)]
struct Stage {
    penalties: Penalties,
    to_start: Vec<i64>,
    to_end: Vec<i64>,
}

/// A gap between two steps, or the length of one: `min..=max`, whose cost counts from `base`.
#[derive(Clone, Copy)]
struct Reach {
    min: Time,
    max: Time,
    base: Time,
    rate: Rate,
}

impl Reach {
    fn cost(self, minutes: Time) -> i64 {
        self.rate.cost(minutes - self.base).saturating_mul(SCALE)
    }
}

impl PathPlanner {
    /// The cheapest choices for the steps of a path, and what they cost; none if there are none.
    pub(super) fn cheapest(
        &mut self,
        ledger: &Ledger<'_>,
        path: &[usize],
        setting: &Setting<'_>,
    ) -> Option<(i64, Vec<Choice>)> {
        if self.layers.len() < path.len() {
            self.layers.resize_with(path.len(), Layer::default);
        }
        for (index, &step) in path.iter().enumerate() {
            if ledger.instance.halt.said() {
                return None;
            }
            self.fill(ledger, index, step, setting)?;
        }
        let (cost, choices) = self.trace(ledger, path.len(), setting.late)?;
        let tilted = choices.iter().zip(path).zip(setting.tilts);
        let tilt = tilted.map(|((choice, &step), tilt)| tilt * i64::from(choice.start - setting.frames.start[step].lo));
        Some((cost - tilt.sum::<i64>(), choices))
    }

    fn fill(&mut self, ledger: &Ledger<'_>, index: usize, step: usize, setting: &Setting<'_>) -> Option<()> {
        let instance = ledger.instance;
        let (starts, ends) = (setting.frames.start[step], setting.frames.end[step]);
        if starts.lo > starts.hi || ends.lo > ends.hi {
            return None;
        }
        let (done, rest) = self.layers.split_at_mut(index);
        let layer = &mut rest[0];
        layer.step = step;
        layer.starts = Some((starts, ends));
        let source = &instance.steps[step];
        if layer.modes.len() < source.modes.len() {
            layer.modes.resize_with(source.modes.len(), Stage::default);
        }
        let mut open = false;
        for (number, mode) in source.modes.iter().enumerate() {
            let stage = &mut layer.modes[number];
            stage.to_end.clear();
            stage.to_end.resize((ends.hi - ends.lo + 1) as usize, NEVER);
            if setting.taboo == Some((step, number)) {
                stage.to_start.clear();
                continue;
            }
            stage.penalties.work_out(ledger, (step, number), (starts, ends), setting.force, setting.prices);
            add_neighbours(ledger, setting, step, number, &mut stage.penalties, (starts, ends));
            if let Some(&tilt) = setting.tilts.get(index).filter(|tilt| **tilt != 0) {
                for (minute, penalty) in stage.penalties.start.iter_mut().enumerate() {
                    *penalty += tilt * minute as i64;
                }
            }
            stage.to_start.clear();
            stage.to_start.resize((starts.hi - starts.lo + 1) as usize, NEVER);
            match done.last() {
                None => stage.to_start.fill(0),
                Some(before) => arrive(ledger, before, step, number, stage, starts, &mut self.merged, &mut self.slide),
            }
            for (minute, cost) in stage.to_start.iter_mut().enumerate() {
                *cost = (*cost + stage.penalties.start[minute]).min(NEVER) - stage.penalties.passed[minute];
            }
            let reach = Reach { min: mode.min, max: mode.max, base: mode.min, rate: mode.wait };
            self.slide.run(&stage.to_start, starts.lo, &mut stage.to_end, ends.lo, reach, Some(&stage.penalties.clear));
            let ahead = (ends.lo - starts.lo) as usize;
            let fixed = mode.cost.saturating_mul(SCALE);
            for (minute, cost) in stage.to_end.iter_mut().enumerate() {
                let total = *cost + stage.penalties.end[minute] + stage.penalties.passed[minute + ahead] + fixed;
                *cost = if *cost >= NEVER / 2 || total >= NEVER / 2 { NEVER } else { total };
                open |= *cost < NEVER;
            }
        }
        open.then_some(())
    }

    /// Walks back from the cheapest end.
    fn trace(&self, ledger: &Ledger<'_>, count: usize, late: bool) -> Option<(i64, Vec<Choice>)> {
        let last = &self.layers[count - 1];
        let (_, ends) = last.starts?;
        let mut best: Option<(i64, usize, Time)> = None;
        for (number, stage) in last.modes.iter().enumerate().take(ledger.instance.steps[last.step].modes.len()) {
            for (index, &cost) in stage.to_end.iter().enumerate() {
                if cost < best.map_or(NEVER, |best| best.0 + i64::from(late)) {
                    best = Some((cost, number, ends.lo + index as Time));
                }
            }
        }
        let (cost, mut mode, mut end) = best?;
        let mut choices = Vec::with_capacity(count);
        for index in (0..count).rev() {
            let layer = &self.layers[index];
            let start = self.start_of(ledger, layer, mode, end, late)?;
            choices.push(Choice { mode, start, end });
            if index > 0 {
                (mode, end) = self.before(ledger, &self.layers[index - 1], layer, mode, start, late)?;
            }
        }
        choices.reverse();
        Some((cost, choices))
    }

    /// The best start for an end.
    fn start_of(&self, ledger: &Ledger<'_>, layer: &Layer, mode: usize, end: Time, late: bool) -> Option<Time> {
        let (starts, ends) = layer.starts?;
        let source = &ledger.instance.steps[layer.step].modes[mode];
        let stage = &layer.modes[mode];
        let clear = stage.penalties.clear[(end - ends.lo) as usize];
        let reach = Reach { min: source.min, max: source.max, base: source.min, rate: source.wait };
        let first = starts.lo.max(clear).max(end - source.max);
        let last = starts.hi.min(end - source.min);
        let costs =
            (first..=last).map(|start| (stage.to_start[(start - starts.lo) as usize] + reach.cost(end - start), start));
        pick(costs, late).map(|(_, start)| start)
    }

    /// The mode and end of the step before that lead to a start.
    fn before(
        &self,
        ledger: &Ledger<'_>,
        before: &Layer,
        layer: &Layer,
        mode: usize,
        start: Time,
        late: bool,
    ) -> Option<(usize, Time)> {
        let (_, ends) = before.starts?;
        let modes = ledger.instance.steps[before.step].modes.len();
        let costs = (0..modes).filter_map(|number| {
            let reach = gap(ledger, (before.step, number), (layer.step, mode))?;
            let stage = &before.modes[number];
            let first = ends.lo.max(start.saturating_sub(reach.max));
            let last = ends.hi.min(start - reach.min);
            let costs = (first..=last).map(|end| {
                let cost = stage.to_end[(end - ends.lo) as usize];
                (if cost >= NEVER { NEVER } else { cost + reach.cost(start - end) }, end)
            });
            pick(costs, late).map(|(cost, end)| (cost, (number, end)))
        });
        // Of equal modes the first; NEVER is no way.
        pick(costs, false).filter(|(cost, _)| *cost < NEVER).map(|(_, found)| found)
    }
}

/// The least of some costs, the first or the last of several.
fn pick<T>(costs: impl Iterator<Item = (i64, T)>, late: bool) -> Option<(i64, T)> {
    let mut best: Option<(i64, T)> = None;
    for (cost, item) in costs {
        if best.as_ref().is_none_or(|(least, _)| cost < least + i64::from(late)) {
            best = Some((cost, item));
        }
    }
    best
}

/// The gap a link asks for between two modes; none if they cannot follow each other.
fn gap(ledger: &Ledger<'_>, from: (usize, usize), to: (usize, usize)) -> Option<Reach> {
    let instance = ledger.instance;
    let mut found: Option<Reach> = None;
    let (first, second) = (&instance.steps[from.0].modes[from.1], &instance.steps[to.0].modes[to.1]);
    for link in instance.steps[from.0].after.iter().map(|&link| &instance.links[link]).filter(|link| link.to == to.0) {
        if link.stay && first.place != second.place {
            return None;
        }
        let reach = found.get_or_insert(Reach { min: link.min, max: link.max, base: link.min, rate: link.wait });
        reach.min = reach.min.max(link.min);
        reach.max = reach.max.min(link.max);
    }
    let mut reach = found?;
    if let (Some(place), Some(a), Some(b)) = (first.place, first.occupant, second.occupant)
        && second.place == Some(place)
        && let Some(separation) = instance.places[place].separation(a, b)
    {
        reach.min = reach.min.max(separation.forth);
    }
    (reach.min <= reach.max).then_some(reach)
}

/// Fills the costs up to the start of a mode from all modes of the step before.
#[expect(clippy::too_many_arguments, reason = "buffers are handed through so that nothing is allocated")]
fn arrive(
    ledger: &Ledger<'_>,
    before: &Layer,
    step: usize,
    mode: usize,
    stage: &mut Stage,
    starts: Span,
    merged: &mut Vec<i64>,
    slide: &mut Slide,
) {
    let Some((_, ends)) = before.starts else { return };
    let modes = ledger.instance.steps[before.step].modes.len();
    let gaps: Vec<Option<Reach>> = (0..modes).map(|number| gap(ledger, (before.step, number), (step, mode))).collect();
    let mut done = vec![false; modes];
    for number in 0..modes {
        let Some(reach) = gaps[number] else { continue };
        if done[number] {
            continue;
        }
        // Modes that ask for the same gap are one question.
        merged.clear();
        merged.extend_from_slice(&before.modes[number].to_end);
        for other in number + 1..modes {
            if gaps[other].is_some_and(|gap| gap.min == reach.min && gap.max == reach.max) {
                done[other] = true;
                for (least, &cost) in merged.iter_mut().zip(&before.modes[other].to_end) {
                    *least = cost.min(*least);
                }
            }
        }
        slide.run(merged, ends.lo, &mut stage.to_start, starts.lo, reach, None);
    }
}

/// Adds what links to booked steps and the serving cost.
fn add_neighbours(
    ledger: &Ledger<'_>,
    setting: &Setting<'_>,
    step: usize,
    mode: usize,
    penalties: &mut Penalties,
    (starts, ends): (Span, Span),
) {
    let instance = ledger.instance;
    let source = &instance.steps[step];
    let place = source.modes[mode].place;
    for link in source.before.iter().map(|&link| &instance.links[link]) {
        let Some(from) = ledger.choices()[link.from] else { continue };
        if link.stay && ledger.mode(link.from, from).place != place {
            penalties.start.fill(NEVER);
        }
        for (index, penalty) in penalties.start.iter_mut().enumerate() {
            let gap = starts.lo + index as Time - from.end;
            *penalty = if gap < link.min || gap > link.max {
                NEVER
            } else {
                (*penalty + link.wait.cost(gap - link.min).saturating_mul(SCALE)).min(NEVER)
            };
        }
    }
    for link in source.after.iter().map(|&link| &instance.links[link]) {
        let Some(to) = ledger.choices()[link.to] else { continue };
        if link.stay && ledger.mode(link.to, to).place != place {
            penalties.end.fill(NEVER);
        }
        for (index, penalty) in penalties.end.iter_mut().enumerate() {
            let gap = to.start - (ends.lo + index as Time);
            *penalty = if gap < link.min || gap > link.max {
                NEVER
            } else {
                (*penalty + link.wait.cost(gap - link.min).saturating_mul(SCALE)).min(NEVER)
            };
        }
    }
    if let Some((course, rate)) = source.sink {
        for (index, penalty) in penalties.end.iter_mut().enumerate() {
            let stands = setting.served[course] - (ends.lo + index as Time);
            *penalty = if stands < 0 || stands > instance.courses[course].together {
                NEVER
            } else {
                (*penalty + rate.cost(stands).saturating_mul(SCALE)).min(NEVER)
            };
        }
    }
}

/// Sliding minima of a cost plus a convex function of two linear pieces.
#[derive(Default)]
struct Slide {
    /// Indices and keys, keys increasing.
    queue: std::collections::VecDeque<(usize, i64)>,
}

impl Slide {
    /// `out(t) = min(out(t), min over s of from(s) + cost(t - s))` for `t - s` inside the reach and `s >= clear(t)`.
    fn run(
        &mut self,
        from: &[i64],
        from_lo: Time,
        out: &mut [i64],
        out_lo: Time,
        reach: Reach,
        clear: Option<&[Time]>,
    ) {
        let bend = reach.base.saturating_add(reach.rate.soft);
        let (rate, after) = (reach.rate.rate.saturating_mul(SCALE), reach.rate.rate_after.saturating_mul(SCALE));
        if rate == after || bend >= reach.max {
            self.piece(from, from_lo, out, out_lo, (reach.min, reach.max), (reach.base, 0, rate), clear);
            return;
        }
        if reach.min <= bend {
            self.piece(from, from_lo, out, out_lo, (reach.min, bend), (reach.base, 0, rate), clear);
        }
        let at_bend = rate.saturating_mul(i64::from(reach.rate.soft));
        self.piece(from, from_lo, out, out_lo, (reach.min.max(bend), reach.max), (bend, at_bend, after), clear);
    }

    /// One linear piece: `(base, at base, slope)`.
    #[expect(clippy::too_many_arguments, reason = "one inner loop")]
    fn piece(
        &mut self,
        from: &[i64],
        from_lo: Time,
        out: &mut [i64],
        out_lo: Time,
        (min, max): (Time, Time),
        (base, fixed, slope): (Time, i64, i64),
        clear: Option<&[Time]>,
    ) {
        self.queue.clear();
        let mut next = 0_usize;
        for (index, least) in out.iter_mut().enumerate() {
            let now = out_lo + index as Time;
            // Starts up to now - min come in.
            let last = i64::from(now) - i64::from(min) - i64::from(from_lo);
            while next < from.len() && next as i64 <= last {
                let cost = from[next];
                if cost < NEVER / 2 {
                    let key = cost - slope * next as i64;
                    while self.queue.back().is_some_and(|back| back.1 >= key) {
                        self.queue.pop_back();
                    }
                    self.queue.push_back((next, key));
                }
                next += 1;
            }
            let mut first = now.saturating_sub(max);
            if let Some(clear) = clear {
                first = first.max(clear[index]);
            }
            let first = i64::from(first) - i64::from(from_lo);
            while self.queue.front().is_some_and(|front| (front.0 as i64) < first) {
                self.queue.pop_front();
            }
            if let Some(&(_, key)) = self.queue.front() {
                let cost = key + fixed + slope * (i64::from(now - base) - i64::from(from_lo));
                *least = cost.min(*least);
            }
        }
    }
}

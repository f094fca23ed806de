//! Serial schedule generation with priority rules, and forward-backward improvement (Li and Willis 1992).
//!
//! Good where what matters is how soon all is done: steps are put in one at a time as early as possible, in an order; then
//! all are pushed as late as the end allows, which gives a better order for the next pass. It knows nothing of greatest
//! gaps and leaves the field when its schedules keep breaking them.

use super::ledger::Ledger;
use super::penalties::{NEVER, Penalties};
use super::random::Random;
use crate::assignment::{Assignment, Choice, Cost};
use crate::instance::{Instance, Span, Time};

/// Passes without success before it gives up for good.
const PATIENCE: usize = 200;

pub(super) struct Serial<'i> {
    ledger: Ledger<'i>,
    random: Random,
    penalties: Penalties,
    /// Latest start by the links first, then by what comes after.
    rule: Vec<i64>,
    /// The order to follow next, if the last pass gave one.
    next: Option<Vec<i64>>,
    /// For each start or end the nearest one that is free: before it, or after it.
    free: Vec<Option<Time>>,
    passes: usize,
    successes: usize,
    quiet: usize,
}

impl<'i> Serial<'i> {
    pub(super) fn new(instance: &'i Instance<'i>) -> Self {
        Serial {
            ledger: Ledger::new(instance),
            random: Random::new(0x5e71a1),
            penalties: Penalties::default(),
            rule: instance.windows.start.iter().map(|span| i64::from(span.hi)).collect(),
            next: None,
            free: Vec::new(),
            passes: 0,
            successes: 0,
            quiet: 0,
        }
    }

    /// One more schedule to be looked at; none once it has left the field.
    pub(super) fn next(&mut self, instance: &Instance<'_>, base: Option<&(Cost, Assignment)>) -> Option<Assignment> {
        let best = base.map_or(i64::MAX, |(cost, _)| cost[0]);
        while self.quiet < PATIENCE && (self.passes < 4 || self.successes > 0) && best > 0 && !instance.halt.said() {
            self.passes += 1;
            self.quiet += 1;
            let order = self.next.take().unwrap_or_else(|| self.sample());
            let Some(assignment) = self.forward(instance, &order) else { continue };
            if !super::valid(instance, &assignment) {
                continue;
            }
            self.successes += 1;
            let lateness = assignment.lateness(instance);
            if lateness < best {
                self.quiet = 0;
            }
            // Not much worse than the best: push it to the right and look again.
            let near = lateness <= best.saturating_add(best / 20);
            self.next = if near { self.backward(instance, &assignment) } else { None };
            return Some(assignment);
        }
        None
    }

    /// The rule itself first, then the rule with noise.
    fn sample(&mut self) -> Vec<i64> {
        let spread = self.rule.iter().max().unwrap_or(&0) - self.rule.iter().min().unwrap_or(&0);
        let noise = if self.passes == 1 { 0 } else { spread / (2 + self.random.below(12) as i64) };
        let random = &mut self.random;
        self.rule.iter().map(|&rule| rule + (random.next() % (noise.max(0) as u64 + 1)) as i64).collect()
    }

    fn clear(&mut self, instance: &Instance<'_>) {
        for step in 0..instance.steps.len() {
            self.ledger.unbook(step);
        }
    }

    /// All steps as early as possible, the ready one of least rank first.
    fn forward(&mut self, instance: &Instance<'_>, rank: &[i64]) -> Option<Assignment> {
        self.clear(instance);
        let mut missing: Vec<usize> = instance.steps.iter().map(|step| step.before.len()).collect();
        let ready = missing.iter().enumerate().filter(|(_, missing)| **missing == 0);
        let mut ready: std::collections::BTreeSet<(i64, usize)> = ready.map(|(step, _)| (rank[step], step)).collect();
        while let Some((_, step)) = ready.pop_first() {
            if instance.halt.said() {
                return None;
            }
            let choice = self.earliest(instance, step)?;
            self.ledger.book(step, choice);
            for &link in &instance.steps[step].after {
                let to = instance.links[link].to;
                missing[to] -= 1;
                if missing[to] == 0 {
                    ready.insert((rank[to], to));
                }
            }
        }
        let steps: Vec<Choice> = self.ledger.choices().iter().copied().collect::<Option<_>>()?;
        let mut served: Vec<Time> = instance.windows.serve.iter().map(|span| span.lo).collect();
        for (course, served) in instance.courses.iter().zip(&mut served) {
            *served = course.sinks.iter().map(|&sink| steps[sink].end).fold(*served, Time::max);
        }
        super::slips::settle(instance, &mut served).then_some(Assignment { steps, served })
    }

    /// The mode, start and end with which a step ends first.
    fn earliest(&mut self, instance: &Instance<'_>, step: usize) -> Option<Choice> {
        let source = &instance.steps[step];
        let span = instance.windows.start[step];
        let after = source.before.iter().filter_map(|&link| {
            let link = &instance.links[link];
            self.ledger.choices()[link.from].map(|from| from.end + link.min)
        });
        let starts = Span { lo: after.fold(span.lo, Time::max), hi: span.hi };
        let ends = instance.windows.end[step];
        let mut best: Option<Choice> = None;
        for number in 0..source.modes.len() {
            let mode = &source.modes[number];
            let ends = Span { lo: ends.lo.max(starts.lo + mode.min), hi: ends.hi };
            if starts.lo > starts.hi || ends.lo > ends.hi {
                continue;
            }
            self.penalties.work_out(&self.ledger, (step, number), (starts, ends), None, None);
            let until = best.map_or(ends.hi, |best| ends.hi.min(best.end - 1));
            // The last free start up to each.
            let mut last = None;
            self.free.clear();
            self.free.extend(self.penalties.start.iter().zip(starts.lo..).map(|(&penalty, start)| {
                last = if penalty < NEVER / 2 { Some(start) } else { last };
                last
            }));
            let found = (ends.lo..=until).find_map(|end| {
                let index = (end - ends.lo) as usize;
                let first = self.penalties.clear[index].max(starts.lo).max(end - mode.max);
                let latest = starts.hi.min(end - mode.min);
                if self.penalties.end[index] >= NEVER / 2 || latest < first {
                    return None;
                }
                let start = self.free[(latest - starts.lo) as usize].filter(|&start| start >= first)?;
                Some(Choice { mode: number, start, end })
            });
            best = found.or(best);
        }
        best
    }

    /// All steps as late as the servings allow, the last to end first. Gives the order of their starts.
    fn backward(&mut self, instance: &Instance<'_>, assignment: &Assignment) -> Option<Vec<i64>> {
        self.clear(instance);
        let mut order: Vec<usize> = instance.order.clone();
        order.sort_by_key(|&step| std::cmp::Reverse(assignment.steps[step].end));
        // Links with negative gaps may put a step before one it waits for: then the order of the links rules.
        let mut missing: Vec<usize> = instance.steps.iter().map(|step| step.after.len()).collect();
        let mut waiting = order;
        while !waiting.is_empty() {
            if instance.halt.said() {
                return None;
            }
            let at = waiting.iter().position(|&step| missing[step] == 0)?;
            let step = waiting.remove(at);
            let choice = self.latest(instance, step, assignment)?;
            self.ledger.book(step, choice);
            for &link in &instance.steps[step].before {
                missing[instance.links[link].from] -= 1;
            }
        }
        self.ledger.choices().iter().map(|choice| choice.map(|choice| i64::from(choice.start))).collect()
    }

    /// The latest way to do a step.
    fn latest(&mut self, instance: &Instance<'_>, step: usize, assignment: &Assignment) -> Option<Choice> {
        let source = &instance.steps[step];
        let span = instance.windows.end[step];
        let before = source.after.iter().filter_map(|&link| {
            let link = &instance.links[link];
            self.ledger.choices()[link.to].map(|to| to.start - link.min)
        });
        let last = source.sink.map_or(span.hi, |(course, _)| assignment.served[course]);
        let mut ends = Span { lo: span.lo, hi: before.fold(span.hi.min(last), Time::min) };
        let mut best: Option<Choice> = None;
        for number in 0..source.modes.len() {
            let mode = &source.modes[number];
            let starts = Span {
                lo: instance.windows.start[step].lo,
                hi: instance.windows.start[step].hi.min(ends.hi - mode.min),
            };
            ends.lo = ends.lo.max(starts.lo);
            if starts.lo > starts.hi || ends.lo > ends.hi {
                continue;
            }
            self.penalties.work_out(&self.ledger, (step, number), (starts, ends), None, None);
            // The first free end from each on. If something lies between a start and that end, it does for all later ones.
            let mut next = None;
            self.free.clear();
            self.free.extend(self.penalties.end.iter().zip(ends.lo..ends.hi + 1).rev().map(|(&penalty, end)| {
                next = if penalty < NEVER / 2 { Some(end) } else { next };
                next
            }));
            self.free.reverse();
            let found = (starts.lo..=starts.hi).rev().find_map(|start| {
                if self.penalties.start[(start - starts.lo) as usize] >= NEVER / 2 {
                    return None;
                }
                let (soonest, latest) = (ends.lo.max(start + mode.min), ends.hi.min(start + mode.max));
                if soonest > latest {
                    return None;
                }
                let end = self.free[(soonest - ends.lo) as usize].filter(|&end| end <= latest)?;
                let clear = self.penalties.clear[(end - ends.lo) as usize] <= start;
                clear.then_some(Choice { mode: number, start, end })
            });
            if found.is_some_and(|found| best.is_none_or(|best| found.start > best.start)) {
                best = found;
            }
        }
        best
    }
}

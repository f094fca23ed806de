//! What a node of the tree still allows: modes, and windows for starts and ends.

use super::component::{Component, lengths};
use crate::assignment::Choice;
use crate::instance::{Instance, Span, Time};

/// A mode of a step, counted through all steps.
pub(super) type Way = usize;

/// All modes in a row.
pub(super) struct Ways {
    first: Vec<usize>,
    /// Step and mode of each way.
    pub(super) of: Vec<(usize, usize)>,
}

impl Ways {
    pub(super) fn new(instance: &Instance<'_>) -> Self {
        let mut ways = Ways { first: Vec::new(), of: Vec::new() };
        for (step, source) in instance.steps.iter().enumerate() {
            ways.first.push(ways.of.len());
            ways.of.extend((0..source.modes.len()).map(|mode| (step, mode)));
        }
        ways
    }

    pub(super) fn way(&self, step: usize, mode: usize) -> Way {
        self.first[step] + mode
    }

    pub(super) fn of_step(&self, step: usize) -> std::ops::Range<Way> {
        self.first[step]..self.first.get(step + 1).copied().unwrap_or(self.of.len())
    }
}

/// A decision that splits a node in two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Decision {
    /// The step is done in this place (or not).
    Place { step: usize, place: Option<usize>, is: bool },
    /// The step is done in this mode (or not).
    Mode { step: usize, mode: usize, is: bool },
    /// The step starts at this minute at the latest.
    StartBy { step: usize, minute: Time },
    /// The step starts after this minute.
    StartAfter { step: usize, minute: Time },
    /// The step ends at this minute at the latest.
    EndBy { step: usize, minute: Time },
    /// The step ends after this minute.
    EndAfter { step: usize, minute: Time },
}

/// What is allowed.
#[derive(Clone, Debug)]
pub(super) struct Domain {
    pub(super) open: Vec<bool>,
    pub(super) start: Vec<Span>,
    pub(super) end: Vec<Span>,
}

impl Domain {
    /// All modes, with the windows that the served minutes leave. `None` if a step has no minute left.
    pub(super) fn new(instance: &Instance<'_>, ways: &Ways, components: &[Component], served: &[Time]) -> Option<Self> {
        let mut domain = Domain {
            open: vec![true; ways.of.len()],
            start: instance.windows.start.clone(),
            end: instance.windows.end.clone(),
        };
        for (step, source) in instance.steps.iter().enumerate() {
            if let Some((course, _)) = source.sink {
                clip(&mut domain.end[step], served[course] - instance.courses[course].together, served[course]);
            }
        }
        domain.tighten(instance, ways, components).then_some(domain)
    }

    /// Takes a decision in. False if nothing is left.
    pub(super) fn decide(
        &mut self,
        instance: &Instance<'_>,
        ways: &Ways,
        components: &[Component],
        decision: Decision,
    ) -> bool {
        match decision {
            Decision::Place { step, place, is } => {
                for way in ways.of_step(step) {
                    let there = instance.steps[step].modes[ways.of[way].1].place == place;
                    self.open[way] &= there == is;
                }
            }
            Decision::Mode { step, mode, is } => {
                for way in ways.of_step(step) {
                    self.open[way] &= (ways.of[way].1 == mode) == is;
                }
            }
            Decision::StartBy { step, minute } => self.start[step].hi = self.start[step].hi.min(minute),
            Decision::StartAfter { step, minute } => self.start[step].lo = self.start[step].lo.max(minute + 1),
            Decision::EndBy { step, minute } => self.end[step].hi = self.end[step].hi.min(minute),
            Decision::EndAfter { step, minute } => self.end[step].lo = self.end[step].lo.max(minute + 1),
        }
        self.tighten(instance, ways, components)
    }

    /// Whether a choice is allowed.
    pub(super) fn allows(&self, ways: &Ways, step: usize, choice: Choice) -> bool {
        let within = |span: Span, minute: Time| span.lo <= minute && minute <= span.hi;
        self.open[ways.way(step, choice.mode)]
            && within(self.start[step], choice.start)
            && within(self.end[step], choice.end)
    }

    /// Carries windows along the links until nothing changes (or long enough). False if a window is empty.
    fn tighten(&mut self, instance: &Instance<'_>, ways: &Ways, components: &[Component]) -> bool {
        for (step, source) in instance.steps.iter().enumerate() {
            let open = ways.of_step(step).filter(|&way| self.open[way]);
            let Some(ready) = open.map(|way| source.modes[ways.of[way].1].ready).min() else { return false };
            self.start[step].lo = self.start[step].lo.max(ready);
        }
        for component in components {
            for _ in 0..12 {
                let mut changed = false;
                for &step in &component.steps {
                    changed |= self.forward(instance, ways, step);
                }
                for &step in component.steps.iter().rev() {
                    changed |= self.backward(instance, ways, step);
                }
                if !changed {
                    break;
                }
            }
        }
        let holds = |span: &Span| span.lo <= span.hi;
        self.start.iter().all(holds) && self.end.iter().all(holds)
    }

    fn lengths(&self, instance: &Instance<'_>, ways: &Ways, step: usize) -> (Time, Time) {
        let modes =
            ways.of_step(step).filter(|&way| self.open[way]).map(|way| &instance.steps[step].modes[ways.of[way].1]);
        let both = modes.fold(None, |range: Option<(Time, Time)>, mode| {
            Some(range.map_or((mode.min, mode.max), |(min, max)| (min.min(mode.min), max.max(mode.max))))
        });
        both.unwrap_or_else(|| lengths(instance, step))
    }

    fn forward(&mut self, instance: &Instance<'_>, ways: &Ways, step: usize) -> bool {
        let (mut start, mut end) = (self.start[step], self.end[step]);
        for link in instance.steps[step].before.iter().map(|&link| &instance.links[link]) {
            let from = self.end[link.from];
            clip(&mut start, from.lo + link.min, from.hi.saturating_add(link.max));
        }
        let (min, max) = self.lengths(instance, ways, step);
        clip(&mut end, start.lo + min, start.hi.saturating_add(max));
        self.put(step, start, end)
    }

    fn backward(&mut self, instance: &Instance<'_>, ways: &Ways, step: usize) -> bool {
        let (mut start, mut end) = (self.start[step], self.end[step]);
        for link in instance.steps[step].after.iter().map(|&link| &instance.links[link]) {
            let to = self.start[link.to];
            clip(&mut end, to.lo.saturating_sub(link.max), to.hi - link.min);
        }
        let (min, max) = self.lengths(instance, ways, step);
        clip(&mut start, end.lo.saturating_sub(max), end.hi - min);
        self.put(step, start, end)
    }

    fn put(&mut self, step: usize, start: Span, end: Span) -> bool {
        let changed = self.start[step] != start || self.end[step] != end;
        (self.start[step], self.end[step]) = (start, end);
        changed
    }
}

fn clip(span: &mut Span, lo: Time, hi: Time) {
    span.lo = span.lo.max(lo);
    span.hi = span.hi.min(hi);
}

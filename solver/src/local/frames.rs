//! When the steps of a component may start and end, given what of it is booked and when courses are served.

use super::units::Units;
use crate::assignment::Choice;
use crate::instance::{Instance, Span, Time};

/// Windows of the steps, valid for the component last asked for.
pub(super) struct Frames {
    pub(super) start: Vec<Span>,
    pub(super) end: Vec<Span>,
}

impl Frames {
    pub(super) fn new(instance: &Instance<'_>) -> Self {
        Frames { start: instance.windows.start.clone(), end: instance.windows.end.clone() }
    }

    /// Works out the windows of a component. False if some step has no minute left.
    pub(super) fn update(
        &mut self,
        instance: &Instance<'_>,
        units: &Units,
        component: usize,
        choices: &[Option<Choice>],
        served: &[Time],
    ) -> bool {
        let steps = &units.components[component];
        for &step in steps {
            self.start[step] = instance.windows.start[step];
            self.end[step] = instance.windows.end[step];
            if let Some((course, _)) = instance.steps[step].sink {
                let together = instance.courses[course].together;
                clip(&mut self.end[step], served[course] - together, served[course]);
            }
            if let Some(choice) = choices[step] {
                self.start[step] = Span { lo: choice.start, hi: choice.start };
                self.end[step] = Span { lo: choice.end, hi: choice.end };
            }
        }
        // A chain needs one pass each way but for its greatest gaps; those only make windows smaller than they need be.
        let rounds = if units.members[component].len() == 1 { 2 } else { 12 };
        for _ in 0..rounds {
            let mut changed = false;
            for &step in steps.iter().rev() {
                changed |= self.backward(instance, step);
            }
            for &step in steps {
                changed |= self.forward(instance, step);
            }
            if !changed {
                break;
            }
        }
        steps.iter().all(|&step| self.start[step].lo <= self.start[step].hi && self.end[step].lo <= self.end[step].hi)
    }

    fn forward(&mut self, instance: &Instance<'_>, step: usize) -> bool {
        let mut start = self.start[step];
        for link in instance.steps[step].before.iter().map(|&link| &instance.links[link]) {
            let from = self.end[link.from];
            clip(&mut start, from.lo + link.min, from.hi.saturating_add(link.max));
        }
        let mut end = self.end[step];
        let (min, max) = lengths(instance, step);
        clip(&mut end, start.lo + min, start.hi.saturating_add(max));
        self.put(step, start, end)
    }

    fn backward(&mut self, instance: &Instance<'_>, step: usize) -> bool {
        let mut end = self.end[step];
        for link in instance.steps[step].after.iter().map(|&link| &instance.links[link]) {
            let to = self.start[link.to];
            clip(&mut end, to.lo.saturating_sub(link.max), to.hi - link.min);
        }
        let mut start = self.start[step];
        let (min, max) = lengths(instance, step);
        clip(&mut start, end.lo.saturating_sub(max), end.hi - min);
        self.put(step, start, end)
    }

    fn put(&mut self, step: usize, start: Span, end: Span) -> bool {
        let changed = self.start[step] != start || self.end[step] != end;
        self.start[step] = start;
        self.end[step] = end;
        changed
    }
}

/// The least and the most minutes over all modes.
pub(super) fn lengths(instance: &Instance<'_>, step: usize) -> (Time, Time) {
    let modes = &instance.steps[step].modes;
    let min = modes.iter().map(|mode| mode.min).min().unwrap_or(0);
    let max = modes.iter().map(|mode| mode.max).max().unwrap_or(0);
    (min, max)
}

fn clip(span: &mut Span, lo: Time, hi: Time) {
    span.lo = span.lo.max(lo);
    span.hi = span.hi.min(hi);
}

//! Known roasts, forecast again when something is heard of them or of their ovens.

use super::entry::{Entry, Event};
use super::fold::Folding;
use super::probe::Left;
use super::roast::Running;
use super::state::Stage;
use crate::cook::roast::Roasting;
use crate::problem::{Minute, Step};

impl Folding<'_> {
    /// What the one forecast of roasts makes of a known one, after all that was logged of it and of its oven.
    pub(super) fn known(
        &self,
        id: &str,
        roasting: Roasting,
        start: Minute,
        at: Minute,
        target: Option<i64>,
    ) -> Option<Left> {
        let step = self.step(id).ok()?;
        let begun = self.begun.get(id).copied().unwrap_or_else(|| self.planned_mode(step));
        let log = &self.log;
        Running { problem: self.problem, step, roasting, begun, start, log }.left(at, target)
    }

    /// After news of ovens, every known roast that runs and has been told of is forecast again: one that was moved, whose oven
    /// was out or does not hold what it was set to. What is out is forecast when it works again.
    pub(super) fn follow(&mut self, entry: &Entry) {
        let news = |step: &Step, mode: usize, forecast: bool| {
            let place = step.modes.get(mode).and_then(|mode| mode.place.as_deref());
            match &entry.event {
                Event::PutIn { step: own, place: Some(_) } => *own == step.id && self.begun.get(own) != Some(&mode),
                Event::PowerOn => true,
                Event::Repaired { place: own } => place == Some(own),
                Event::OvenReads { place: own, degrees } => {
                    let kept = step.modes[mode].t.is_some_and(|[low, high]| (low..=high).contains(degrees));
                    place == Some(own) && (!kept || forecast)
                }
                _ => false,
            }
        };
        let at = entry.at;
        let mut told = Vec::new();
        for (id, known) in self.roasts {
            let (Stage::Running { mode, start, until, logged }, Ok(step)) = (self.day.stage(id), self.step(id)) else {
                continue;
            };
            if start >= at
                || !news(step, mode, until.is_some())
                || self.day.broken.contains_key(step.modes[mode].place.as_deref().unwrap_or_default())
            {
                continue;
            }
            let Some(left) = self.known(id, *known, start, at, self.targets.get(id).copied()) else { continue };
            // Before any reading a late one still has the margin that was planned for it.
            let read = self.day.probes.contains_key(id);
            let margin = if read { 0 } else { step.modes[mode].min - step.modes[mode].likely() };
            let until = Some(at.saturating_add(left.minutes + margin.max(0)));
            told.push((id.clone(), Stage::Running { mode, start, until, logged }, read.then_some(left)));
        }
        for (id, stage, left) in told {
            self.day.probes.extend(left.map(|left| (id.clone(), left)));
            self.day.steps.insert(id, stage);
        }
    }
}

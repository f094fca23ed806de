//! What an entry makes of the steps of a day.

use super::fault::Untrue;
use super::fold::Folding;
use super::probe::{Reading, left};
use super::state::{Breakdown, Stage};
use crate::cook::roast::{MOVED, Roast, Roasting};
use crate::problem::{Heat, Minute, Place, Step};

/// The centre of what comes out of a refrigerator, degrees C (common practice, no source).
const COLD: i64 = 5;

impl Folding<'_> {
    /// A step has not been begun; silence says that it was only from a minute on, by a plan that knows of this.
    pub(super) fn not_begun(&mut self, step: &str, until: Minute) {
        self.day.steps.insert(step.to_owned(), Stage::Waiting);
        self.day.probes.remove(step);
        self.day.mute_probes.remove(step);
        self.begun.remove(step);
        self.targets.remove(step);
        self.silent.insert(step.to_owned(), until);
    }

    /// What runs goes on in another way: it needs as much of that one's minutes as it still needed of its own.
    pub(super) fn moves(&mut self, id: &str, mode: usize, at: Minute) -> Result<(), Untrue> {
        let (was, start, logged) = self.running(id, at)?;
        let modes = &self.step(id)?.modes;
        let whole = modes[was].min.max(1);
        let dead = modes[was].place.as_ref().and_then(|place| self.day.broken_since.get(place));
        let had = dead.map_or(at, |&since| since.min(at)).saturating_sub(start).clamp(0, whole);
        let until = Some(at.saturating_add((modes[mode].min * (whole - had) / whole).max(1)));
        self.day.steps.insert(id.to_owned(), Stage::Running { mode, start, until, logged });
        Ok(())
    }

    /// A place works again: what stood in it needs the minutes that it had lost, and what was to be begun in it was not.
    pub(super) fn works_again(&mut self, place: &str, at: Minute) {
        let whole = self.day.broken.remove(place) == Some(Breakdown::Whole);
        let Some(since) = self.day.broken_since.remove(place).filter(|_| whole) else { return };
        for step in &self.problem.steps {
            let planned = self.plan.steps.get(&step.id);
            let (mode, start, end, logged) = match (self.day.stage(&step.id), planned) {
                (Stage::Running { mode, start, until, logged }, _) => {
                    let least = step.modes.get(mode).map_or(0, |mode| mode.min);
                    (mode, start, until.unwrap_or(start.saturating_add(least)), logged)
                }
                (Stage::Waiting, Some(planned)) if !self.silent.contains_key(&step.id) => {
                    let mode = self.planned_mode(step);
                    // A plan made since then knows of the minutes lost: they are not lost twice.
                    let most = step.modes.get(mode).map_or(0, |mode| mode.max);
                    (mode, planned.start, planned.end.min(planned.start.saturating_add(most)), false)
                }
                _ => continue,
            };
            let here = step.modes.get(mode).is_some_and(|mode| mode.place.as_deref() == Some(place));
            if here && start < since && end > since {
                let until = Some(at.saturating_add(end - since));
                self.day.steps.insert(step.id.clone(), Stage::Running { mode, start, until, logged });
            } else if here && !logged && (since..at).contains(&start) {
                self.silent.insert(step.id.clone(), Minute::MAX);
            }
        }
    }

    pub(super) fn planned_place(&self, step: &'_ Step) -> Option<&String> {
        let mode = self.problem.steps.iter().find(|own| own.id == step.id)?.modes.get(self.planned_mode(step))?;
        mode.place.as_ref()
    }

    pub(super) fn step(&self, id: &str) -> Result<&Step, Untrue> {
        let step = self.problem.steps.iter().find(|step| step.id == id);
        step.ok_or_else(|| Untrue::NoStep { step: id.to_owned() })
    }

    pub(super) fn place(&self, id: &str) -> Result<&Place, Untrue> {
        let place = self.problem.places.iter().find(|place| place.id() == id);
        place.ok_or_else(|| Untrue::NoPlace { place: id.to_owned() })
    }

    pub(super) fn planned_mode(&self, step: &Step) -> usize {
        let planned = self.plan.steps.get(&step.id).map_or(0, |planned| planned.mode);
        planned.min(step.modes.len().saturating_sub(1))
    }

    pub(super) fn start(&mut self, step: &str, mode: usize, start: Minute) -> Result<(), Untrue> {
        match self.day.stage(step) {
            Stage::Waiting => {
                let running = Stage::Running { mode, start, until: None, logged: true };
                self.day.steps.insert(step.to_owned(), running);
                self.begun.insert(step.to_owned(), mode);
                Ok(())
            }
            _ => Err(Untrue::StartedBefore { step: step.to_owned() }),
        }
    }

    /// The stage of a step that must be running at a minute. What was not logged was started at its planned minute.
    pub(super) fn running(&self, id: &str, at: Minute) -> Result<(usize, Minute, bool), Untrue> {
        let step = self.step(id)?;
        match self.day.stage(id) {
            Stage::Running { mode, start, logged, .. } if start <= at => Ok((mode, start, logged)),
            Stage::Running { .. } => Err(Untrue::StartedLater { step: id.to_owned() }),
            Stage::Done { .. } => Err(Untrue::DoneAlready { step: id.to_owned() }),
            Stage::Waiting => {
                let planned = self.plan.steps.get(id).map_or(at, |planned| planned.start);
                Ok((self.planned_mode(step), planned.min(at), false))
            }
        }
    }

    pub(super) fn finish(&mut self, step: &str, end: Minute) -> Result<(), Untrue> {
        let (mode, start, _) = self.running(step, end)?;
        self.day.steps.insert(step.to_owned(), Stage::Done { mode, start, end, logged: true });
        Ok(())
    }

    pub(super) fn expect(&mut self, step: &str, at: Minute, minutes: Minute) -> Result<(), Untrue> {
        let (mode, start, logged) = self.running(step, at)?;
        let until = Some(at.saturating_add(minutes));
        self.day.steps.insert(step.to_owned(), Stage::Running { mode, start, until, logged });
        Ok(())
    }

    pub(super) fn probe(
        &mut self,
        id: &str,
        at: Minute,
        core: i64,
        target: Option<i64>,
        from: Option<i64>,
    ) -> Result<(), Untrue> {
        let (index, start, _) = self.running(id, at)?;
        let mode = &self.step(id)?.modes[index];
        let Some([low, high]) = mode.t else {
            return Err(Untrue::NoRoast { step: id.to_owned() });
        };
        let found = match self.roasts.get(id).filter(|known| core as f64 >= known.roast.start_c + MOVED) {
            Some(known) => {
                let start_c = from.map_or(known.roast.start_c, |from| (from as f64).clamp(0.0, 40.0));
                let roast = Roast { start_c, ..known.roast };
                self.known(id, Roasting { roast, ..*known }, start, at, target)
            }
            None => {
                let (from, air, planned) = (from.unwrap_or(COLD), (low + high) / 2, mode.likely());
                let heat = mode.heat.unwrap_or(Heat::Static);
                let moved = core as f64 >= from as f64 + MOVED;
                let bar = |target: i64| {
                    let [from, target, air, planned] = [from, target, air, planned].map(|number| number as f64);
                    Roasting::of_minutes(from, target, heat, air, planned).filter(|_| moved)
                };
                target.and_then(|target| match bar(target) {
                    Some(bar) => self.known(id, bar, start, at, Some(target)),
                    None => left(&Reading { minute: at - start, core, from, target, air, planned }),
                })
            }
        };
        match found {
            Some(left) => {
                self.expect(id, at, left.minutes)?;
                self.day.probes.insert(id.to_owned(), left);
                self.targets.extend(target.map(|target| (id.to_owned(), target)));
            }
            None => {
                // A reading is proof that it is in.
                let until = match self.day.stage(id) {
                    Stage::Running { until, .. } => until,
                    _ => None,
                };
                self.day.steps.insert(id.to_owned(), Stage::Running { mode: index, start, until, logged: true });
                self.day.mute_probes.insert(id.to_owned());
            }
        }
        Ok(())
    }
}

//! The air of each cavity as a new plan finds it.

use std::collections::BTreeSet;

use rangewright_models::day::Stage;
use rangewright_models::oven::{changeover, drift};
use rangewright_models::plan::PlannedStep;
use rangewright_models::problem::{Cavity, Minute};
use rangewright_models::schedule::CavityDay;

use super::today::{Today, as_cavity};

impl Today<'_> {
    /// Where the dial was left, and what that has made of the air; what runs has the air it needs.
    pub(super) fn feel_air(&mut self) {
        let cavities: Vec<Cavity> = self.problem.places.iter().filter_map(as_cavity).cloned().collect();
        for cavity in cavities {
            let reading = self.day.readings.get(&cavity.id).copied();
            let own = self.old_day.cavities.iter().find(|own| own.place == cavity.id);
            let mut air = own.map_or(cavity.t_open, |own| drifted(&cavity, own, reading, self.now()));
            if reading.is_none() {
                air = self.trusted(&cavity, air);
            }
            for (step, stage) in self.problem.steps.iter().zip(&self.stages) {
                let mode = match *stage {
                    Stage::Running { mode, .. } if !self.interrupted.contains(&step.id) => &step.modes[mode],
                    _ => continue,
                };
                if let (true, Some([low, high])) = (mode.place.as_ref() == Some(&cavity.id), mode.t) {
                    air = air.clamp(low, high);
                }
            }
            let staying = self.on_the_way(&cavity, air);
            if staying != air {
                air = staying;
                self.accept(&cavity, air);
            }
            self.air.insert(cavity.id.clone(), air.clamp(-40, 600));
        }
    }

    /// A pan that stays in while the air changes needs no changeover; but a problem that begins now would ask for one from
    /// its first air. So the air is taken to be on the way already, as far as the time left asks for it.
    fn on_the_way(&self, cavity: &Cavity, air: i64) -> i64 {
        let mut air = air;
        for link in self.problem.links.iter().filter(|link| link.stay) {
            let (Some(from), Some(to)) = (self.index(&link.from), self.index(&link.to)) else { continue };
            let (own, after) = (&self.problem.steps[from], &self.problem.steps[to]);
            let (mode, done) = match (self.stages[from], self.stages[to], self.old.steps.get(&own.id)) {
                (Stage::Running { mode, start, .. }, Stage::Waiting, _) => (mode, start + own.modes[mode].min),
                // It is about to begin.
                (Stage::Waiting, Stage::Waiting, Some(planned)) if planned.mode < own.modes.len() => {
                    (planned.mode, planned.start.max(self.now()) + own.modes[planned.mode].min)
                }
                _ => continue,
            };
            let next = self.old.steps.get(&after.id).and_then(|planned| after.modes.get(planned.mode)?.t);
            let (true, Some(window)) = (own.modes[mode].place.as_ref() == Some(&cavity.id), next) else { continue };
            let left = (done - self.now()).max(1);
            let towards = air.clamp(window[0], window[1]);
            while air != towards && changeover(cavity, [air; 2], window).is_some_and(|needed| needed > left) {
                air += (towards - air).signum();
            }
        }
        air
    }

    /// What runs in a cavity bears its air, and so does what is about to stay in while it changes.
    fn accept(&mut self, cavity: &Cavity, air: i64) {
        let stays: BTreeSet<&str> =
            self.problem.links.iter().filter(|link| link.stay).map(|link| link.from.as_str()).collect();
        for (step, stage) in self.problem.steps.iter_mut().zip(&self.stages) {
            let planned = self.old.steps.get(&step.id).map(|planned| planned.mode);
            let mode = match (*stage, planned) {
                (Stage::Running { mode, .. }, _) => mode,
                (Stage::Waiting, Some(mode)) if mode < step.modes.len() && stays.contains(step.id.as_str()) => mode,
                _ => continue,
            };
            let own = &mut step.modes[mode];
            if own.place.as_ref() == Some(&cavity.id) {
                own.t = own.t.map(|[low, high]| [low.min(air), high.max(air)]);
            }
        }
    }

    /// The sheet has been checked: whatever it still has in a cavity finds the air it needs at its minute, as long as the
    /// cavity was used as planned.
    fn trusted(&self, cavity: &Cavity, air: i64) -> i64 {
        let mut coming: Vec<(Minute, [i64; 2])> = Vec::new();
        for (step, stage) in self.problem.steps.iter().zip(&self.stages) {
            let Some(&PlannedStep { mode, start, end, .. }) = self.old.steps.get(&step.id) else { continue };
            let Some(mode) = step.modes.get(mode).filter(|mode| mode.place.as_ref() == Some(&cavity.id)) else {
                continue;
            };
            match *stage {
                Stage::Done { end: ended, .. } if ended > end => return air,
                Stage::Running { until: Some(until), .. } if until > end => return air,
                Stage::Waiting if start < self.now() => return air,
                Stage::Waiting => coming.extend(mode.t.map(|window| (start, window))),
                Stage::Done { .. } | Stage::Running { .. } => {}
            }
        }
        // The soonest has the last word: it is the least patient.
        coming.sort_by_key(|(start, window)| (std::cmp::Reverse(*start), *window));
        let mut warm = air;
        for (start, window) in coming {
            let fits =
                |air: i64| changeover(cavity, [air; 2], window).is_none_or(|needed| needed <= start - self.now());
            let towards = warm.clamp(window[0], window[1]);
            while !fits(warm) && warm != towards {
                warm += (towards - warm).signum();
            }
        }
        warm
    }
}

/// The air at a minute: from the last reading, or from the opening, towards whatever the dial was set to.
fn drifted(cavity: &Cavity, day: &CavityDay, reading: Option<(Minute, i64)>, now: Minute) -> i64 {
    let first = day.settings.first().map_or(now, |setting| setting.at);
    let (mut at, mut tenths) = match reading {
        Some((at, degrees)) => (at, 10 * degrees),
        None => (first, 10 * cavity.t_open),
    };
    while at < now {
        let setting = day.settings.iter().rfind(|setting| setting.at <= at);
        let next = day.settings.iter().map(|setting| setting.at).find(|&turned| turned > at).unwrap_or(now).min(now);
        let target = 10 * setting.and_then(|setting| setting.degrees).unwrap_or(cavity.t_open);
        tenths = drift(cavity, tenths, target, next - at);
        at = next;
    }
    tenths.div_euclid(10)
}

//! A roast that runs, followed through all that was logged of it and of its oven: the one forecast of the whole program,
//! [`state`], asked on the day.
//!
//! What it has been through is read off the log: which oven it went into and when, what that oven's thermometer read, whether
//! it went out or the power did, and to which oven it was moved. A thermometer that reads within the way's own window says
//! that the dial is kept to; any other reading is taken at its word from then on.

use crate::cook::roast::{self, Oven, Roasting, Spell, state};
use crate::problem::{Heat, Minute, Mode, Place, Problem, Step};

use super::{Entry, Event, Left};

/// Temperatures of an oven for which there is a model, degrees C.
const OVEN: [f64; 2] = [80.0, 260.0];

/// A roast on its way.
pub(super) struct Running<'a> {
    pub(super) problem: &'a Problem,
    pub(super) step: &'a Step,
    pub(super) roasting: Roasting,
    /// The way it was begun in, and when.
    pub(super) begun: usize,
    pub(super) start: Minute,
    /// What was logged so far, in order.
    pub(super) log: &'a [&'a Entry],
}

/// What an oven does, as far as it was logged.
struct Air<'a> {
    place: Option<&'a str>,
    heat: Heat,
    dial_c: f64,
    window: [i64; 2],
    now: Spell,
    dead: bool,
}

impl<'a> Air<'a> {
    fn of(mode: &'a Mode) -> Option<Self> {
        let window = mode.t?;
        let dial_c = ((window[0] + window[1]) as f64 / 2.0).clamp(OVEN[0], OVEN[1]);
        let heat = mode.heat.unwrap_or(Heat::Static);
        let now = Spell::oven(0.0, heat, dial_c);
        Some(Self { place: mode.place.as_deref(), heat, dial_c, window, now, dead: false })
    }

    fn here(&self, place: &str) -> bool {
        self.place == Some(place)
    }

    fn goes_out(&mut self) {
        self.dead = true;
        self.now = Spell::went_out(0.0, self.heat);
    }

    fn back_on(&mut self) {
        self.dead = false;
        self.now = Spell::turned(0.0, self.heat, self.dial_c);
    }

    fn reads(&mut self, degrees: i64) {
        let kept = (self.window[0]..=self.window[1]).contains(&degrees);
        self.now = match kept {
            true => Spell::turned(0.0, self.heat, self.dial_c),
            false => Spell::oven(0.0, self.heat, (degrees as f64).clamp(0.0, 300.0)),
        };
    }
}

impl Running<'_> {
    /// Minutes from `at` to its end: at `target`, or where its own forecast ends it.
    pub(super) fn left(&self, at: Minute, target: Option<i64>) -> Option<Left> {
        let mut air = Air::of(self.step.modes.get(self.begun)?)?;
        let oven = self.oven(&air);
        let before = self.roasting.before(air.heat);
        let (mut spells, mut readings) = (Vec::from_iter(before), Vec::new());
        let ahead = before.map_or(0.0, |spell| spell.minutes);
        if before.is_some() {
            air.now.at_once = false;
        }
        let mut since = self.start;
        let mut spend = |air: &Air<'_>, until: Minute| {
            let minutes = until.saturating_sub(since).clamp(0, 1_440) as f64;
            if minutes > 0.0 {
                spells.push(Spell { minutes, ..air.now });
            }
            since = since.max(until);
        };
        for entry in self.log.iter().filter(|entry| (self.start..=at).contains(&entry.at)) {
            match &entry.event {
                Event::PutIn { step, place: Some(place) } if *step == self.step.id && !air.here(place) => {
                    spend(&air, entry.at);
                    let there = self.step.modes.iter().find(|mode| mode.place.as_ref() == Some(place));
                    air = Air::of(there?)?;
                }
                Event::PowerOff => {
                    spend(&air, entry.at);
                    air.goes_out();
                }
                Event::Broken { place, burners: None } if air.here(place) => {
                    spend(&air, entry.at);
                    air.goes_out();
                }
                Event::PowerOn if air.dead => {
                    spend(&air, entry.at);
                    air.back_on();
                }
                Event::Repaired { place } if air.dead && air.here(place) => {
                    spend(&air, entry.at);
                    air.back_on();
                }
                Event::OvenReads { place, degrees } if !air.dead && air.here(place) => {
                    spend(&air, entry.at);
                    air.reads(*degrees);
                }
                Event::Probe { step, core, .. } if *step == self.step.id => {
                    let minute = (entry.at - self.start) as f64 + ahead;
                    readings.push(roast::Reading { minute, core_c: *core as f64 });
                }
                _ => {}
            }
        }
        spend(&air, at);
        let pull_c = target.map(|target| target as f64).or_else(|| self.roasting.ends_c(&oven, air.dial_c))?;
        // What is out will be mended, or the roast moved: it is forecast from then on.
        let then = if air.dead { Spell::turned(0.0, air.heat, air.dial_c) } else { air.now };
        let (roast, calibration) = (&self.roasting.roast, &self.roasting.calibration);
        let told = state(roast, &oven, &spells, &readings, then, pull_c, calibration).ok()?;
        Some(Left { minutes: told.remaining_min, early: told.early_min, late: told.late_min })
    }

    fn oven(&self, air: &Air<'_>) -> Oven {
        let cavity = self.problem.places.iter().find_map(|place| match place {
            Place::Cavity(cavity) if Some(cavity.id.as_str()) == air.place => Some(cavity),
            _ => None,
        });
        let at = air.dial_c.round() as i64;
        let usual = Oven::new(air.heat, at, at);
        cavity.map_or(usual, |cavity| Oven { rise: cavity.rise as f64, fall: cavity.fall as f64, ..usual })
    }
}

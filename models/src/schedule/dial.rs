//! What the dial is set to, and when it is turned: few settings, round numbers, late heating, early cooling.

use super::air::{Corridor, window};
use super::data::{Setting, Spell};
use super::running::Run;
use crate::oven::{ROOM, Tenths, drift, minutes_between};
use crate::problem::{Cavity, Heat, Minute};

/// An oven is not switched off for fewer minutes than this.
const WORTH_SWITCHING_OFF: Minute = 10;

/// A window no wider than this stands for its middle: one temperature, and 5 C on either side.
const SINGLE: i64 = 10;

/// A turn is brought forward by no more than this to a minute at which a cook is at the oven anyway.
const WORTH_BRINGING_FORWARD: Minute = 10;

/// The dial as it stands: since when, at what air temperature it was turned, and what it is turned to.
#[derive(Clone, Copy)]
struct Dial {
    since: Minute,
    air: Tenths,
    target: Tenths,
}

/// Finds the settings that keep the air inside the corridor.
pub(super) struct Programme<'a> {
    cavity: &'a Cavity,
    corridor: &'a Corridor,
    runs: &'a [Run<'a>],
    /// Stretches in which the oven stays on and its heat is of one kind.
    hot: Vec<(Spell, Heat)>,
    /// When somebody is there to turn it; empty if that is not known.
    present: Vec<[Minute; 2]>,
}

impl<'a> Programme<'a> {
    pub(super) fn new(
        cavity: &'a Cavity,
        corridor: &'a Corridor,
        runs: &'a [Run<'a>],
        spells: &[Spell],
        present: Vec<[Minute; 2]>,
    ) -> Self {
        Programme { cavity, corridor, runs, hot: hot_stretches(cavity, runs, spells), present }
    }

    /// Whether somebody is there to turn the dial.
    fn is_attended(&self, at: Minute) -> bool {
        self.present.is_empty() || self.present.iter().any(|&[start, end]| start <= at && at <= end)
    }

    /// The minute itself if somebody is there, else the next one at which somebody is, if no later than `last`; else the last
    /// one before, if no earlier than `first`. Where nobody is there at any of them it stays as it is.
    fn attended(&self, at: Minute, first: Minute, last: Minute) -> Minute {
        if self.is_attended(at) {
            return at;
        }
        let later = self.present.iter().map(|&[start, _]| start).find(|&start| at < start && start <= last);
        let earlier = || {
            self.present
                .iter()
                .map(|&[_, end]| end)
                .rev()
                .find(|&end| first <= end && end < at && at - end <= self.cavity.cool_off)
        };
        later.or_else(earlier).unwrap_or(at)
    }

    /// The settings in order; the last one switches off.
    pub(super) fn settings(&self, opening: Minute) -> Vec<Setting> {
        let mut settings = Vec::new();
        let (first, room) = (10 * self.cavity.t_open, 10 * ROOM);
        // Off, it falls to the air of the room; what is colder than that is kept cold.
        let off = |since: Minute, air: Tenths| Dial { since, air, target: room.min(air) };
        // The dial as it stands, whether it is on, and the minute from which the next stretch may have it.
        let (mut dial, mut on, mut free) = (off(opening, first), None, opening);
        for &(stretch, heat) in &self.hot {
            let long = stretch.start - free > self.cavity.cool_off;
            // Switched off by whoever is there next.
            let out = self.attended(free, free, stretch.start);
            let cooling = if on.is_some() && long { off(out, self.air_at(dial, out)) } else { dial };
            let mut turned = self.heat_up(cooling, if on.is_some() && long { out } else { free }, stretch);
            if on.is_some() && long {
                if turned.since - out >= WORTH_SWITCHING_OFF {
                    settings.push(Setting { at: out, degrees: None, heat: None, there: out });
                    on = None;
                } else {
                    turned = self.turned(dial, free, turned.target);
                }
            }
            if on != Some((turned.target, heat)) {
                settings.push(self.setting(turned, heat));
                dial = turned;
            }
            while let Some(next) = self.next(dial, stretch) {
                settings.push(self.setting(next, heat));
                dial = next;
            }
            (on, free) = (Some((dial.target, heat)), stretch.end);
        }
        if on.is_some() {
            let out = self.attended(free, free, Minute::MAX);
            settings.push(Setting { at: out, degrees: None, heat: None, there: out });
        }
        settings
    }

    /// The first setting of a stretch: upwards as late as it still gets there, `settle` included; downwards at once.
    fn heat_up(&self, dial: Dial, free: Minute, stretch: Spell) -> Dial {
        let ready = stretch.start - self.cavity.settle;
        let forced = self.survives(dial, free, ready.max(free)).max(free);
        let target = self.choose(dial, forced, stretch);
        let latest = forced.min(ready);
        let arrives = |at: &Minute| {
            let air = self.air_at(dial, *at);
            air <= target && at + minutes_between(self.cavity, air, target) <= ready
        };
        let at = (free..=latest).rev().find(arrives).unwrap_or(free);
        self.turned(dial, self.attended(at, free, forced), target)
    }

    /// The next turn within a stretch; `None` if the dial can stay.
    fn next(&self, dial: Dial, stretch: Spell) -> Option<Dial> {
        let last = self.survives(dial, dial.since, stretch.end);
        if last >= stretch.end {
            return None;
        }
        let forced = last.max(dial.since + 1);
        let target = self.choose(dial, forced, stretch);
        let lasts = |at: Minute| self.survives(self.turned(dial, at, target), at, stretch.end);
        let reach = lasts(forced);
        let mut events: Vec<Minute> = self.runs.iter().flat_map(|run| [run.start, run.end]).collect();
        events.retain(|&at| dial.since < at && at <= forced && lasts(at) >= reach);
        events.sort_unstable();
        // The air lags behind the dial: a dial that what is in does not like is turned only if it must be.
        let liked = |at: &&Minute| self.suits(target / 10, **at, **at + 1);
        let at = if target < self.air_at(dial, forced) {
            // Downwards as soon as what was in has left.
            events.iter().find(liked).or(events.first()).copied().unwrap_or(forced)
        } else {
            // Upwards as late as it still gets there, unless what is in forbids that.
            let start = self.runs.iter().map(|run| run.start).find(|&start| start > forced).unwrap_or(stretch.end);
            let ready = start - self.cavity.settle;
            let may_be_earlier = |at: &Minute| {
                at + minutes_between(self.cavity, self.air_at(dial, *at), target) > ready && lasts(at - 1) >= reach
            };
            let late = (dial.since + 1..=forced).rev().find(|at| !may_be_earlier(at)).unwrap_or(dial.since + 1);
            let near = |at: &&Minute| **at <= late && late - **at <= WORTH_BRINGING_FORWARD;
            events.iter().rev().filter(near).find(liked).copied().unwrap_or(late)
        };
        let attended = self.attended(at, dial.since + 1, forced);
        Some(self.turned(dial, if lasts(attended) >= reach { attended } else { at }, target))
    }

    /// What the next step that is in from `at` on asks for, if that lasts until it is done. Otherwise the setting that lasts
    /// longest; of those that last equally long one that suits whatever is in by then, asked for, or round and near their
    /// middle.
    fn choose(&self, dial: Dial, at: Minute, stretch: Spell) -> Tenths {
        if let Some(degrees) = self.asked(dial, at, stretch) {
            return 10 * degrees;
        }
        let mut best: Vec<i64> = Vec::new();
        let mut reach = Minute::MIN;
        for degrees in self.cavity.t_min..=self.cavity.t_max {
            let lasts = self.survives(self.turned(dial, at, 10 * degrees), at, stretch.end);
            if lasts > reach {
                (best, reach) = (Vec::new(), lasts);
            }
            if lasts == reach {
                best.push(degrees);
            }
        }
        let suits = |degrees: &i64| self.suits(*degrees, at, reach);
        if best.iter().any(suits) {
            best.retain(suits);
        }
        let inside = self.runs.iter().filter(|run| run.start < reach && at < run.end);
        if let Some(degrees) = inside.filter_map(wanted).find(|degrees| best.contains(degrees)) {
            return 10 * degrees;
        }
        let middle = best.first().zip(best.last()).map_or(0, |(first, last)| first + last);
        let roundest = |unit: i64| {
            best.iter().filter(|&degrees| degrees % unit == 0).min_by_key(|&degrees| (2 * degrees - middle).abs())
        };
        10 * roundest(10).or_else(|| roundest(5)).or_else(|| roundest(1)).copied().unwrap_or(self.cavity.t_min)
    }

    /// The temperature that the first of the steps in from `at` on asks for which can have it until it is done.
    fn asked(&self, dial: Dial, at: Minute, stretch: Spell) -> Option<i64> {
        let ahead = self.runs.iter().filter(|run| at < run.end && run.start < stretch.end);
        let lasts = |run: &&Run<'_>, degrees: i64| {
            self.survives(self.turned(dial, at, 10 * degrees), at, stretch.end) >= run.end.min(stretch.end)
        };
        ahead.filter_map(|run| Some((run, wanted(run)?))).find(|(run, degrees)| lasts(run, *degrees)).map(|own| own.1)
    }

    /// Whether a temperature lies in the windows of all that is in at some minute of `[from, until)`.
    fn suits(&self, degrees: i64, from: Minute, until: Minute) -> bool {
        let inside = self.runs.iter().filter(|run| run.start < until && from < run.end);
        inside.filter_map(|run| window(self.cavity, run)).all(|[low, high]| low <= degrees && degrees <= high)
    }

    fn turned(&self, dial: Dial, at: Minute, target: Tenths) -> Dial {
        Dial { since: at, air: self.air_at(dial, at), target }
    }

    fn air_at(&self, dial: Dial, at: Minute) -> Tenths {
        drift(self.cavity, dial.air, dial.target, (at - dial.since).max(0))
    }

    /// The last minute from `from` to `to` up to which the air stays in the corridor; `from - 1` if it is outside already.
    fn survives(&self, dial: Dial, from: Minute, to: Minute) -> Minute {
        let mut air = self.air_at(dial, from);
        for minute in from..=to {
            if !self.corridor.holds(minute, air) {
                return minute - 1;
            }
            air = drift(self.cavity, air, dial.target, 1);
        }
        to
    }

    fn setting(&self, dial: Dial, heat: Heat) -> Setting {
        let there = dial.since + minutes_between(self.cavity, dial.air, dial.target);
        Setting { at: dial.since, degrees: Some(dial.target / 10), heat: Some(heat), there }
    }
}

/// The single temperature that a step asks for: the middle of a window as narrow as a thermostat keeps.
fn wanted(run: &Run<'_>) -> Option<i64> {
    let [low, high] = run.mode.t?;
    (high - low <= SINGLE && (low + high) % 2 == 0).then_some((low + high) / 2)
}

/// Joins spells that are too near each other to switch off between, and parts them where the kind of heat changes.
fn hot_stretches(cavity: &Cavity, runs: &[Run<'_>], spells: &[Spell]) -> Vec<(Spell, Heat)> {
    let mut hot: Vec<(Spell, Heat)> = Vec::new();
    for run in runs {
        let heat = run.mode.heat.or(cavity.heats.first().copied()).unwrap_or(Heat::Static);
        let off_before =
            spells.windows(2).any(|pair| pair[1].start == run.start && pair[1].start - pair[0].end > cavity.cool_off);
        match hot.last_mut() {
            // What goes in together with the first after a pause joins it.
            Some((spell, kind)) if *kind == heat && !(off_before && spell.end < run.start) => {
                spell.end = spell.end.max(run.end);
            }
            _ => hot.push((Spell { start: run.start, end: run.end }, heat)),
        }
    }
    hot
}

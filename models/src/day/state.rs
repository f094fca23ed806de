//! Where a day stands: the log laid over the plan that was handed out.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::entry::{Entry, Event, counting};
use super::fault::{DayFault, Untrue};
use super::probe::{Left, Reading, left};
use super::silence::assume;
use crate::plan::Plan;
use crate::problem::legal::{COUNT, DEGREES, GAP, MINUTES};
use crate::problem::{Minute, Place, Problem, Step};

/// The centre of what comes out of a refrigerator, degrees C (common practice, no source).
const COLD: i64 = 5;

/// How far a step has got.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "stage", rename_all = "kebab-case")]
pub enum Stage {
    /// Not started.
    Waiting,
    /// Started and not done.
    Running {
        /// The way it is done.
        mode: usize,
        /// Its first minute.
        start: Minute,
        /// When it will be done, as the last reading or the last word of a cook has it.
        until: Option<Minute>,
        /// Whether that was logged, or only follows from the plan.
        logged: bool,
    },
    /// Done.
    Done {
        /// The way it was done.
        mode: usize,
        /// Its first minute.
        start: Minute,
        /// The minute after its last.
        end: Minute,
        /// Whether that was logged, or only follows from the plan.
        logged: bool,
    },
}

/// What no longer works of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Breakdown {
    /// All of it.
    Whole,
    /// So many of its burners.
    Burners(i64),
}

/// A day at one minute.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Day {
    /// The minute.
    pub now: Minute,
    /// Each step of the problem.
    pub steps: BTreeMap<String, Stage>,
    /// When each course that has been served was served.
    pub served: BTreeMap<String, Minute>,
    /// By how much each course that has not been served was put off by late guests.
    pub put_off: BTreeMap<String, Minute>,
    /// What no longer works.
    pub broken: BTreeMap<String, Breakdown>,
    /// Dishes that were given up.
    pub dropped: BTreeSet<String>,
    /// The last reading of each cavity, with its minute.
    pub readings: BTreeMap<String, (Minute, i64)>,
    /// What the last probe of each running roast came to.
    pub probes: BTreeMap<String, Left>,
    /// Probes that moved no minute: no target was given, or it was too early to say.
    pub mute_probes: BTreeSet<String>,
    /// Since when what is broken no longer works.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub broken_since: BTreeMap<String, Minute>,
    /// When each cook who left was away: from, and until. Who is not back yet is away for ever.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub away: BTreeMap<String, Vec<[Minute; 2]>>,
    /// How many guests come now, and how many were expected; absent if that is the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guests: Option<[i64; 2]>,
}

impl Day {
    /// How far a step has got.
    pub fn stage(&self, step: &str) -> Stage {
        self.steps.get(step).copied().unwrap_or(Stage::Waiting)
    }

    /// Whether a day that was made in code can be one of this problem: its minutes are legal, each step that is begun has the
    /// way it is done in, and nothing ends before it starts.
    ///
    /// # Errors
    /// The first thing that cannot be, in words.
    pub fn verify(&self, problem: &Problem) -> Result<(), String> {
        let minute = |what: &str, minute: Minute| {
            if MINUTES.contains(&minute) { Ok(()) } else { Err(format!("{what} is at minute {minute}: give {LEGAL}")) }
        };
        minute("now", self.now)?;
        for (id, stage) in &self.steps {
            let Some(step) = problem.steps.iter().find(|step| step.id == *id) else {
                return Err(format!("there is no step \"{id}\""));
            };
            let (mode, start, end) = match *stage {
                Stage::Waiting => continue,
                Stage::Running { mode, start, until, .. } => (mode, start, until.unwrap_or(start)),
                Stage::Done { mode, start, end, .. } => (mode, start, end),
            };
            if mode >= step.modes.len() {
                return Err(format!("\"{id}\" has no way {mode}, counted from 0"));
            }
            minute(id, start)?;
            minute(id, end)?;
            if end < start || (start > self.now) {
                return Err(format!("\"{id}\" starts at {start}, after its end or after now"));
            }
        }
        for (id, &at) in &self.served {
            minute(id, at)?;
        }
        for (id, &by) in &self.put_off {
            if !GAP.contains(&by) {
                return Err(format!("\"{id}\" is put off by {by} minutes: give {LEGAL}"));
            }
        }
        Ok(())
    }
}

/// The minutes that a day may speak of, in words.
const LEGAL: &str = "a minute from 0 to 43200, counted from midnight of the first day";

/// Whether the numbers of an entry can be meant.
fn legal(entry: &Entry) -> Result<(), Untrue> {
    let within = |what: &str, value: i64, range: &std::ops::RangeInclusive<i64>| {
        let (least, most) = (*range.start(), *range.end());
        if range.contains(&value) {
            Ok(())
        } else {
            Err(Untrue::OutOfRange { what: what.to_owned(), value, least, most })
        }
    };
    within("minutes after midnight of the first day", entry.at, &MINUTES)?;
    match &entry.event {
        Event::Needs { minutes, .. } if *minutes >= 0 => within("minutes left", *minutes, &MINUTES),
        Event::Probe { core, target, from, .. } => [Some(*core), *target, *from]
            .into_iter()
            .flatten()
            .try_for_each(|degrees| within("degrees in the centre", degrees, &DEGREES)),
        Event::OvenReads { degrees, .. } => within("degrees in an oven", *degrees, &DEGREES),
        Event::GuestsLate { minutes, .. } => within("minutes late", *minutes, &GAP),
        Event::Broken { burners: Some(burners), .. } => within("burners", *burners, &COUNT),
        Event::MoreGuests { more, of } => {
            within("more guests", *more, &COUNT).and_then(|()| within("guests expected", *of, &(1..=*COUNT.end())))
        }
        _ => Ok(()),
    }
}

/// Where the day stands at `now`.
///
/// Entries count in the order of the log, those of one minute in whatever order; those of a later minute than `now` have not
/// happened yet. A step of which nothing is logged is taken to have gone as planned, or, where what it follows or its cook was
/// late, as soon after that as it could.
///
/// # Errors
/// Every entry that names something the problem does not have, or a step that is done before it is started.
pub fn fold(problem: &Problem, plan: &Plan, entries: &[Entry], now: Minute) -> Result<Day, Vec<DayFault>> {
    let day = Day {
        now,
        steps: problem.steps.iter().map(|step| (step.id.clone(), Stage::Waiting)).collect(),
        served: BTreeMap::new(),
        put_off: BTreeMap::new(),
        broken: BTreeMap::new(),
        dropped: BTreeSet::new(),
        readings: BTreeMap::new(),
        probes: BTreeMap::new(),
        mute_probes: BTreeSet::new(),
        broken_since: BTreeMap::new(),
        away: BTreeMap::new(),
        guests: None,
    };
    let mut folding = Folding { problem, plan, day, silent: BTreeSet::new(), faults: Vec::new() };
    let counting = counting(entries, now).map_err(|entry| vec![DayFault { entry, why: Untrue::NothingToUndo }])?;
    for (entry_number, entry) in counting {
        if let Err(why) = folding.take(entry) {
            folding.faults.push(DayFault { entry: entry_number, why });
        }
    }
    assume(problem, plan, &folding.silent, &mut folding.day);
    folding.faults.sort_by_key(|fault| fault.entry);
    if folding.faults.is_empty() { Ok(folding.day) } else { Err(folding.faults) }
}

struct Folding<'a> {
    problem: &'a Problem,
    plan: &'a Plan,
    day: Day,
    /// Steps that are said not to have been started: for them silence means nothing.
    silent: BTreeSet<String>,
    faults: Vec<DayFault>,
}

impl Folding<'_> {
    fn take(&mut self, entry: &Entry) -> Result<(), Untrue> {
        let at = entry.at;
        legal(entry)?;
        match &entry.event {
            Event::Started { step, mode } => {
                let own = self.step(step)?;
                let mode = mode.unwrap_or_else(|| self.planned_mode(own));
                if mode >= own.modes.len() {
                    return Err(Untrue::NoSuchMode { step: step.clone(), modes: own.modes.len() });
                }
                self.start(step, mode, at)
            }
            Event::PutIn { step, place } => {
                let own = self.step(step)?;
                let mode = match place {
                    None => self.planned_mode(own),
                    Some(place) if self.planned_place(own) == Some(place) => self.planned_mode(own),
                    Some(place) => (own.modes.iter())
                        .position(|mode| mode.place.as_ref() == Some(place))
                        .ok_or_else(|| Untrue::NotThere { step: step.clone(), place: place.clone() })?,
                };
                match self.day.stage(step) {
                    Stage::Running { mode: was, .. }
                        if place.is_some() && own.modes[was].place != own.modes[mode].place =>
                    {
                        self.moves(step, mode, at)
                    }
                    _ => self.start(step, mode, at),
                }
            }
            Event::Finished { step } | Event::TakenOut { step } => self.finish(step, at),
            Event::Needs { step, minutes } => {
                if *minutes < 0 {
                    return Err(Untrue::NegativeMinutes);
                }
                self.expect(step, at, *minutes)
            }
            Event::Probe { step, core, target, from } => self.probe(step, at, *core, *target, *from),
            Event::OvenReads { place, degrees } => {
                match self.place(place)? {
                    Place::Cavity(_) => self.day.readings.insert(place.clone(), (at, *degrees)),
                    Place::Hob(_) | Place::Top(_) => return Err(Untrue::NoAir { place: place.clone() }),
                };
                Ok(())
            }
            Event::GuestsLate { minutes, course } => {
                let courses = self.problem.courses.iter().map(|course| &course.id);
                let meant: Vec<&String> =
                    courses.filter(|id| course.as_ref().is_none_or(|course| course == *id)).collect();
                if meant.is_empty() {
                    return Err(Untrue::NoCourse { course: course.clone().unwrap_or_default() });
                }
                for id in meant.into_iter().filter(|id| !self.day.served.contains_key(*id)) {
                    let by = self.day.put_off.entry(id.clone()).or_default();
                    *by = by.saturating_add(*minutes).clamp(*GAP.start(), *GAP.end());
                }
                Ok(())
            }
            Event::Broken { place, burners } => {
                let sort = self.place(place)?;
                let breakdown = match (burners, sort) {
                    (None, _) => Breakdown::Whole,
                    (Some(_), Place::Cavity(_) | Place::Top(_)) => {
                        return Err(Untrue::NoBurners { place: place.clone() });
                    }
                    (Some(count), Place::Hob(_)) => match self.day.broken.get(place) {
                        Some(Breakdown::Whole) => Breakdown::Whole,
                        Some(Breakdown::Burners(before)) => Breakdown::Burners(before.saturating_add(*count)),
                        None => Breakdown::Burners(*count),
                    },
                };
                self.day.broken.insert(place.clone(), breakdown);
                self.day.broken_since.entry(place.clone()).or_insert(at);
                Ok(())
            }
            Event::Repaired { place } => {
                self.place(place)?;
                match self.day.broken.contains_key(place) {
                    true => self.works_again(place, at),
                    false => return Err(Untrue::NotBroken { place: place.clone() }),
                }
                Ok(())
            }
            Event::PowerOff => {
                for place in &self.problem.places {
                    self.day.broken.insert(place.id().to_owned(), Breakdown::Whole);
                    self.day.broken_since.entry(place.id().to_owned()).or_insert(at);
                }
                Ok(())
            }
            Event::PowerOn => {
                let dead: Vec<String> = self.day.broken.keys().cloned().collect();
                dead.iter().for_each(|place| self.works_again(place, at));
                Ok(())
            }
            Event::Gone { cook } => {
                let away = self.day.away.entry(cook.clone()).or_default();
                if away.last().is_none_or(|last| last[1] <= at) {
                    away.push([at, *MINUTES.end()]);
                }
                Ok(())
            }
            Event::Back { cook } => {
                let away = self.day.away.get_mut(cook).and_then(|away| away.last_mut()).filter(|last| last[1] > at);
                away.ok_or_else(|| Untrue::NotGone { cook: cook.clone() })?[1] = at;
                Ok(())
            }
            Event::Burnt { step } => {
                let dish = self.step(step)?.dish.clone();
                let own = self.problem.steps.iter().filter(|other| other.dish == dish);
                own.map(|other| other.id.clone()).for_each(|other| self.not_begun(&other));
                Ok(())
            }
            Event::Again { step } => {
                let dish = self.step(step)?.dish.clone();
                let mut again = vec![step.clone()];
                while let Some(own) = again.pop() {
                    let next = self.problem.links.iter().filter(|link| link.from == own).map(|link| link.to.clone());
                    again.extend(next.filter(|to| self.step(to).is_ok_and(|to| to.dish == dish)));
                    self.not_begun(&own);
                }
                Ok(())
            }
            Event::MoreGuests { more, of } => {
                let [now, before] = self.day.guests.unwrap_or([*of, *of]);
                self.day.guests = Some([now.saturating_add(*more), before]);
                Ok(())
            }
            Event::Dropped { dish } => {
                if !self.problem.dishes.iter().any(|own| own.id == *dish) {
                    return Err(Untrue::NoDish { dish: dish.clone() });
                }
                self.day.dropped.insert(dish.clone());
                Ok(())
            }
            Event::Served { course } => {
                if !self.problem.courses.iter().any(|own| own.id == *course) {
                    return Err(Untrue::NoCourse { course: course.clone() });
                }
                self.day.served.insert(course.clone(), at);
                self.day.put_off.remove(course);
                Ok(())
            }
            Event::Mistaken { step } => {
                self.step(step)?;
                self.not_begun(step);
                Ok(())
            }
            // Taken account of before.
            Event::Undo => Ok(()),
        }
    }

    fn not_begun(&mut self, step: &str) {
        self.day.steps.insert(step.to_owned(), Stage::Waiting);
        self.day.probes.remove(step);
        self.day.mute_probes.remove(step);
        self.silent.insert(step.to_owned());
    }

    /// What runs goes on in another way: it needs as much of that one's minutes as it still needed of its own.
    fn moves(&mut self, id: &str, mode: usize, at: Minute) -> Result<(), Untrue> {
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
    fn works_again(&mut self, place: &str, at: Minute) {
        let whole = self.day.broken.remove(place) == Some(Breakdown::Whole);
        let Some(since) = self.day.broken_since.remove(place).filter(|_| whole) else { return };
        for step in &self.problem.steps {
            let planned = self.plan.steps.get(&step.id);
            let (mode, start, end, logged) = match (self.day.stage(&step.id), planned) {
                (Stage::Running { mode, start, until, logged }, _) => {
                    let least = step.modes.get(mode).map_or(0, |mode| mode.min);
                    (mode, start, until.unwrap_or(start.saturating_add(least)), logged)
                }
                (Stage::Waiting, Some(planned)) if !self.silent.contains(&step.id) => {
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
                self.silent.insert(step.id.clone());
            }
        }
    }

    fn planned_place(&self, step: &'_ Step) -> Option<&String> {
        let mode = self.problem.steps.iter().find(|own| own.id == step.id)?.modes.get(self.planned_mode(step))?;
        mode.place.as_ref()
    }

    fn step(&self, id: &str) -> Result<&Step, Untrue> {
        let step = self.problem.steps.iter().find(|step| step.id == id);
        step.ok_or_else(|| Untrue::NoStep { step: id.to_owned() })
    }

    fn place(&self, id: &str) -> Result<&Place, Untrue> {
        let place = self.problem.places.iter().find(|place| place.id() == id);
        place.ok_or_else(|| Untrue::NoPlace { place: id.to_owned() })
    }

    fn planned_mode(&self, step: &Step) -> usize {
        let planned = self.plan.steps.get(&step.id).map_or(0, |planned| planned.mode);
        planned.min(step.modes.len().saturating_sub(1))
    }

    fn start(&mut self, step: &str, mode: usize, start: Minute) -> Result<(), Untrue> {
        match self.day.stage(step) {
            Stage::Waiting => {
                let running = Stage::Running { mode, start, until: None, logged: true };
                self.day.steps.insert(step.to_owned(), running);
                Ok(())
            }
            _ => Err(Untrue::StartedBefore { step: step.to_owned() }),
        }
    }

    /// The stage of a step that must be running at a minute. What was not logged was started at its planned minute.
    fn running(&self, id: &str, at: Minute) -> Result<(usize, Minute, bool), Untrue> {
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

    fn finish(&mut self, step: &str, end: Minute) -> Result<(), Untrue> {
        let (mode, start, _) = self.running(step, end)?;
        self.day.steps.insert(step.to_owned(), Stage::Done { mode, start, end, logged: true });
        Ok(())
    }

    fn expect(&mut self, step: &str, at: Minute, minutes: Minute) -> Result<(), Untrue> {
        let (mode, start, logged) = self.running(step, at)?;
        let until = Some(at.saturating_add(minutes));
        self.day.steps.insert(step.to_owned(), Stage::Running { mode, start, until, logged });
        Ok(())
    }

    fn probe(&mut self, id: &str, at: Minute, core: i64, target: Option<i64>, from: Option<i64>) -> Result<(), Untrue> {
        let (index, start, _) = self.running(id, at)?;
        let mode = &self.step(id)?.modes[index];
        let Some([low, high]) = mode.t else {
            return Err(Untrue::NoRoast { step: id.to_owned() });
        };
        let reading = target.map(|target| Reading {
            minute: at - start,
            core,
            from: from.unwrap_or(COLD),
            target,
            air: (low + high) / 2,
            planned: mode.likely(),
        });
        match reading.and_then(|reading| left(&reading)) {
            Some(left) => {
                self.expect(id, at, left.minutes)?;
                self.day.probes.insert(id.to_owned(), left);
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

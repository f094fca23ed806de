//! The log laid over the plan that was handed out.

use std::collections::{BTreeMap, BTreeSet};

use super::entry::{Entry, Event, counting};
use super::fault::{DayFault, Untrue};
use super::legal::legal;
use super::silence::assume;
use super::state::{Breakdown, Day, Latecomers, Stage};
use crate::cook::roast::Roasting;
use crate::plan::Plan;
use crate::problem::legal::{GAP, MINUTES};
use crate::problem::{Minute, Place, Problem};

/// Where the day stands at `now`.
///
/// Entries count in the order of the log, those of one minute in whatever order; those of a later minute than `now` have not
/// happened yet. A step of which nothing is logged is taken to have gone as planned, or, where what it follows or its cook was
/// late, as soon after that as it could.
///
/// # Errors
/// Every entry that names something the problem does not have, or a step that is done before it is started.
pub fn fold(problem: &Problem, plan: &Plan, entries: &[Entry], now: Minute) -> Result<Day, Vec<DayFault>> {
    fold_with(problem, plan, entries, now, &BTreeMap::new())
}

/// As [`fold`], where more is known of the roasts than their minutes ([`Labels::roasts`](crate::labels::Labels::roasts)): by the
/// ids of their steps.
///
/// # Errors
/// As [`fold`].
pub fn fold_with(
    problem: &Problem,
    plan: &Plan,
    entries: &[Entry],
    now: Minute,
    roasts: &BTreeMap<String, Roasting>,
) -> Result<Day, Vec<DayFault>> {
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
        latecomers: BTreeMap::new(),
        swapped: BTreeMap::new(),
        slower: BTreeMap::new(),
    };
    let counting = counting(entries, now).map_err(|entry| vec![DayFault { entry, why: Untrue::NothingToUndo }])?;
    let mut folding = Folding {
        problem,
        plan,
        roasts,
        day,
        log: Vec::new(),
        begun: BTreeMap::new(),
        targets: BTreeMap::new(),
        silent: BTreeMap::new(),
        faults: Vec::new(),
    };
    for (entry_number, entry) in counting {
        folding.log.push(entry);
        match folding.take(entry) {
            Ok(()) => folding.follow(entry),
            Err(why) => {
                folding.log.pop();
                folding.faults.push(DayFault { entry: entry_number, why });
            }
        }
    }
    assume(problem, plan, &folding.silent, &mut folding.day);
    folding.faults.sort_by_key(|fault| fault.entry);
    if folding.faults.is_empty() { Ok(folding.day) } else { Err(folding.faults) }
}

pub(super) struct Folding<'a> {
    pub(super) problem: &'a Problem,
    pub(super) plan: &'a Plan,
    /// What is known of the roasts.
    pub(super) roasts: &'a BTreeMap<String, Roasting>,
    pub(super) day: Day,
    /// What has been taken so far.
    pub(super) log: Vec<&'a Entry>,
    /// The way in which each step was begun.
    pub(super) begun: BTreeMap<String, usize>,
    /// At which centre each roast comes out, as the last probe has it.
    pub(super) targets: BTreeMap<String, i64>,
    /// Steps that are said not to have been started: for them silence means nothing, unless they are planned from this minute on.
    pub(super) silent: BTreeMap<String, Minute>,
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
            Event::NotHeated { place } => match self.place(place)? {
                Place::Cavity(cavity) => {
                    let cold = cavity.t_open;
                    self.day.readings.insert(place.clone(), (at, cold));
                    Ok(())
                }
                Place::Hob(_) | Place::Top(_) => Err(Untrue::NoAir { place: place.clone() }),
            },
            Event::GuestsLate { minutes, only: Some(guests), course } => {
                let late = Latecomers { guests: *guests, minutes: *minutes };
                for id in self.open_courses(course.as_ref())? {
                    self.day.latecomers.insert(id, late);
                }
                Ok(())
            }
            Event::GuestsLate { minutes, only: None, course } => self.put_off(course.as_ref(), *minutes),
            Event::GuestsEarly { minutes, course } => self.put_off(course.as_ref(), -*minutes),
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
            Event::Swapped { step, cook } => {
                self.step(step)?;
                match self.day.stage(step) {
                    Stage::Done { .. } => return Err(Untrue::DoneAlready { step: step.clone() }),
                    _ => self.day.swapped.insert(step.clone(), cook.clone()),
                };
                Ok(())
            }
            Event::Slower { cook, percent } => {
                match percent {
                    0 => self.day.slower.remove(cook),
                    _ => self.day.slower.insert(cook.clone(), *percent),
                };
                Ok(())
            }
            Event::Burnt { step } => {
                let dish = self.step(step)?.dish.clone();
                let own = self.problem.steps.iter().filter(|other| other.dish == dish);
                own.map(|other| other.id.clone()).for_each(|other| self.not_begun(&other, at));
                Ok(())
            }
            Event::Again { step } => {
                let dish = self.step(step)?.dish.clone();
                let mut again = vec![step.clone()];
                while let Some(own) = again.pop() {
                    let next = self.problem.links.iter().filter(|link| link.from == own).map(|link| link.to.clone());
                    again.extend(next.filter(|to| self.step(to).is_ok_and(|to| to.dish == dish)));
                    self.not_begun(&own, at);
                }
                Ok(())
            }
            Event::MoreGuests { more, of } => self.come(*more, *of),
            Event::FewerGuests { fewer, of } => self.come(-*fewer, *of),
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
                self.day.latecomers.remove(course);
                Ok(())
            }
            Event::Mistaken { step } => {
                self.step(step)?;
                self.not_begun(step, Minute::MAX);
                Ok(())
            }
            // Taken account of before.
            Event::Undo => Ok(()),
        }
    }

    /// The course that is meant, or every one, as far as they are not served.
    fn open_courses(&self, course: Option<&String>) -> Result<Vec<String>, Untrue> {
        let courses = self.problem.courses.iter().map(|course| &course.id);
        let meant: Vec<&String> = courses.filter(|id| course.is_none_or(|course| course == *id)).collect();
        if meant.is_empty() {
            return Err(Untrue::NoCourse { course: course.cloned().unwrap_or_default() });
        }
        Ok(meant.into_iter().filter(|id| !self.day.served.contains_key(*id)).cloned().collect())
    }

    fn put_off(&mut self, course: Option<&String>, minutes: Minute) -> Result<(), Untrue> {
        for id in self.open_courses(course)? {
            let by = self.day.put_off.entry(id).or_default();
            *by = by.saturating_add(minutes).clamp(*GAP.start(), *GAP.end());
        }
        Ok(())
    }

    fn come(&mut self, more: i64, of: i64) -> Result<(), Untrue> {
        let [now, before] = self.day.guests.unwrap_or([of, of]);
        self.day.guests = Some([now.saturating_add(more).max(0), before]);
        Ok(())
    }
}

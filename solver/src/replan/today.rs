//! The problem as it stands today: what was dropped is gone, what is broken is missing, and what has happened has its real
//! minutes.

use std::collections::{BTreeMap, BTreeSet};

use rangewright_models::day::{Breakdown, Day, Stage};
use rangewright_models::oven::changeover;
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Cavity, Course, Minute, Mode, Place, Problem, Step, Touch};
use rangewright_models::schedule::{Crew, Schedule, schedule_with};

use super::{company, drop_empty_courses};
use crate::order::MOMENT;
use crate::why::{Fact, without};

/// Minutes lost when a pan goes on elsewhere (our assumption).
const MOVED: Minute = 5;
/// A cook begins the next thing while the last minutes of the one before go by: so many are no reason to move anything.
const OVERLAP: Minute = MOMENT;
/// A cook who begins so little late makes up for it in work that takes at least `STEADY` minutes.
const STEADY: Minute = 10;
/// An oven that is so much colder than what is in it needs has not cooked it, degrees C.
pub(super) const COLD: i64 = 20;

/// Everything a new plan is made from.
#[derive(Clone)]
pub(super) struct Today<'a> {
    pub(super) day: &'a Day,
    /// The cooks, used to what the plan that was handed out has them do.
    pub(super) crew: Crew,
    /// Today's problem. Places that are broken are still in it; see [`Today::usable`].
    pub(super) problem: Problem,
    /// The same with the minutes of the menu: for the sheets.
    pub(super) sheet: Problem,
    /// The plan that was handed out, of the steps that are still in the problem.
    pub(super) old: Plan,
    /// What it had the cooks do.
    pub(super) old_day: Schedule,
    /// The stage of each step of the problem.
    pub(super) stages: Vec<Stage>,
    /// Running steps that have to go on elsewhere: their other ways have the minutes that are left.
    pub(super) interrupted: BTreeSet<String>,
    /// The air of each cavity, degrees C.
    pub(super) air: BTreeMap<String, i64>,
    /// When what is stirred, basted or probed in passing was to be, by step: the search leaves that to the cooks.
    pub(super) touched: BTreeMap<String, Vec<Minute>>,
    /// Whether nothing at all is amiss.
    pub(super) as_planned: bool,
}

impl<'a> Today<'a> {
    pub(super) fn new(problem: &Problem, plan: &Plan, day: &'a Day, crew: &Crew) -> Self {
        let mut old_day = schedule_with(problem, plan, crew);
        let dropped: Vec<Fact> = day.dropped.iter().map(|dish| Fact::Dish { dish: dish.clone() }).collect();
        let mut problem = without(problem, &dropped);
        let mut old = plan.clone();
        // What the last plan left out, because it was no longer needed, stays out.
        let absent: BTreeSet<String> =
            problem.steps.iter().filter(|step| !old.steps.contains_key(&step.id)).map(|step| step.id.clone()).collect();
        problem.steps.retain(|step| !absent.contains(&step.id));
        problem.links.retain(|link| !absent.contains(&link.from) && !absent.contains(&link.to));
        for course in &mut problem.courses {
            course.serve = wanted(course, day);
            course.sinks.retain(|sink| !absent.contains(&sink.step));
        }
        drop_empty_courses(&mut problem);
        for place in &mut problem.places {
            let broken = day.broken.get(place.id());
            if let (Place::Hob(hob), Some(Breakdown::Burners(count))) = (place, broken) {
                hob.count = (hob.count - count).max(0);
            }
        }
        let stages: Vec<Stage> = problem.steps.iter().map(|step| day.stage(&step.id)).collect();
        let mut crew = crew.clone();
        company::leave(&mut problem, &mut crew, day);
        company::stay(&mut problem, &mut crew, day);
        company::swap(&mut problem, &mut old_day, day);
        company::feed(&mut problem, &stages, day);
        company::slow_down(&mut problem, &stages, day, &old_day);
        let mut sheet = problem.clone();
        pass(&mut sheet);
        pass_over(&mut problem);
        let mut today = Today {
            day,
            crew: crew.used_to(&old_day),
            sheet,
            problem,
            old: Plan { steps: BTreeMap::new(), ..old.clone() },
            old_day,
            stages,
            interrupted: BTreeSet::new(),
            air: BTreeMap::new(),
            touched: BTreeMap::new(),
            as_planned: false,
        };
        old.steps.retain(|id, _| today.problem.steps.iter().any(|step| step.id == *id));
        old.served.retain(|id, _| today.problem.courses.iter().any(|course| course.id == *id));
        for (id, own) in &mut old.steps {
            let touched = std::mem::take(&mut own.touches);
            if !touched.is_empty() {
                today.touched.insert(id.clone(), touched);
            }
        }
        today.old = old;
        today.as_planned = today.goes_as_planned();
        today.set_facts();
        today.make_up();
        today.put_down();
        today.interrupt_broken();
        today.feel_air();
        today
    }

    pub(super) fn now(&self) -> Minute {
        self.day.now
    }

    /// Whether all that has happened, and all that is still to come, is as it was planned.
    fn goes_as_planned(&self) -> bool {
        let day = self.day;
        let told = [day.put_off.is_empty(), day.broken.is_empty(), day.dropped.is_empty(), day.readings.is_empty()];
        let company = [day.away.is_empty(), day.guests.is_none(), day.swapped.is_empty(), day.slower.is_empty()];
        let as_planned = |(step, stage): (&Step, &Stage)| {
            let Some(&PlannedStep { mode, start, end, .. }) = self.old.steps.get(&step.id) else { return false };
            match *stage {
                Stage::Waiting => start >= day.now,
                Stage::Running { mode: own, start: begun, until, .. } => {
                    (own, begun) == (mode, start) && end > day.now && until.is_none_or(|until| until == end)
                }
                Stage::Done { mode: own, start: begun, end: done, .. } => (own, begun, done) == (mode, start, end),
            }
        };
        let served = |course: &Course| {
            let planned = self.old.served.get(&course.id);
            match day.served.get(&course.id) {
                Some(at) => planned == Some(at),
                None => planned.is_some_and(|&planned| planned >= day.now),
            }
        };
        told == [true; 4]
            && company == [true; 4]
            && self.problem.steps.iter().zip(&self.stages).all(as_planned)
            && self.problem.courses.iter().all(served)
    }

    pub(super) fn index(&self, step: &str) -> Option<usize> {
        self.problem.steps.iter().position(|own| own.id == step)
    }

    /// Whether a way can still be taken: nothing of it is broken.
    pub(super) fn usable(&self, mode: &Mode) -> bool {
        mode.place.as_ref().is_none_or(|place| self.day.broken.get(place) != Some(&Breakdown::Whole))
    }

    /// The real minutes of what is done, and the expected ones of what runs.
    pub(super) fn set_facts(&mut self) {
        let now = self.now();
        let cold = self.cold();
        let served: BTreeSet<String> =
            self.problem.courses.iter().flat_map(|course| &course.sinks).map(|sink| sink.step.clone()).collect();
        for (step, stage) in self.problem.steps.iter_mut().zip(&self.stages) {
            let Some(planned) = self.old.steps.get_mut(&step.id) else { continue };
            match *stage {
                Stage::Waiting => {}
                Stage::Done { mode, start, end, .. } => {
                    planned.mode = mode;
                    let own = &mut step.modes[mode];
                    own.min = end - start;
                    own.max = own.min;
                    (own.load, own.unload, own.shut) = (own.load.min(own.min), 0, own.shut.min(own.min));
                }
                Stage::Running { mode, start, until, .. } => {
                    let told = (planned.mode, planned.start) == (mode, start);
                    planned.mode = mode;
                    let own = &mut step.modes[mode];
                    let at_least = now + 1 - start;
                    // A plan made during the day knows what was left of it.
                    let left = until.or((told && planned.end - start < own.min).then_some(planned.end));
                    let late = (left.unwrap_or(start + own.min) - planned.end).clamp(0, OVERLAP);
                    let absorbed = if own.hands > 0 && !served.contains(&step.id) { late } else { 0 };
                    let heating = if until.is_none() { cold.get(&step.id).copied().unwrap_or(0) } else { 0 };
                    if heating > absorbed {
                        (own.min, own.max) = (own.min + heating, own.max + heating);
                    } else if absorbed > 0 && left.is_none() && own.min == own.max {
                        (own.min, own.max) = (own.min - absorbed, own.max - absorbed);
                    }
                    if let Some(until) = left.map(|left| left - absorbed) {
                        let rigid = own.min == own.max;
                        own.min = until - start;
                        own.max = if rigid { own.min } else { own.max.max(own.min) };
                    }
                    own.min = own.min.max(at_least);
                    own.max = own.max.max(own.min);
                    // A reading says how far the rest is in doubt.
                    if let Some(left) = self.day.probes.get(&step.id) {
                        own.spread = Some([left.minutes - left.early, left.late - left.minutes]);
                    }
                    // Its last moments go by while the next thing begins.
                    if own.min + start - now <= OVERLAP {
                        own.hands = 0;
                    }
                    // It may just be coming out.
                    own.unload = own.unload.min(own.min + start - now);
                }
            }
        }
    }

    /// Minutes for which what is in an oven that reads cold has yet to wait for heat. That it had none so far is for the
    /// cooks to judge; they are told so.
    pub(super) fn cold(&self) -> BTreeMap<String, Minute> {
        let mut cold = BTreeMap::new();
        for (step, stage) in self.problem.steps.iter().zip(&self.stages) {
            let Stage::Running { mode, start, .. } = *stage else { continue };
            let (own, cavity) = (&step.modes[mode], self.cavity(&step.modes[mode]));
            if let (Some(cavity), Some(window)) = (cavity, own.t)
                && let Some(&(at, degrees)) = self.day.readings.get(&cavity.id)
                && at >= start
                && degrees < window[0] - COLD
            {
                cold.insert(step.id.clone(), changeover(cavity, [degrees; 2], window).unwrap_or(0));
            }
        }
        cold
    }

    pub(super) fn cavity(&self, mode: &Mode) -> Option<&Cavity> {
        self.problem.places.iter().filter_map(as_cavity).find(|cavity| mode.place.as_ref() == Some(&cavity.id))
    }

    /// Steady work that was to begin a minute or two ago is taken to end at its time all the same.
    fn make_up(&mut self) {
        let now = self.now();
        for (step, stage) in self.problem.steps.iter_mut().zip(&self.stages) {
            let (Stage::Waiting, Some(planned)) = (stage, self.old.steps.get(&step.id)) else { continue };
            let late = now - planned.start;
            if let Some(own) = step.modes.get_mut(planned.mode).filter(|own| own.hands > 0 && own.min >= STEADY)
                && (1..=OVERLAP).contains(&late)
                && planned.end - planned.start == own.min
            {
                (own.min, own.max) = (own.min - late, (own.max - late).max(own.min - late));
            }
        }
    }

    /// Where more work runs than there are hands, what was begun last is put down, and gone on with when a hand is free: once
    /// the first of the others is done.
    fn put_down(&mut self) {
        let now = self.now();
        let mut there = self.problem.hands_at(now);
        let mut running: Vec<(Minute, usize, i64)> = Vec::new();
        for (index, stage) in self.stages.iter().enumerate() {
            if let Stage::Running { mode, start, .. } = *stage {
                let own = &self.problem.steps[index].modes[mode];
                if own.hands > 0 && own.place.is_none() {
                    running.push((start, index, own.hands));
                } else {
                    there -= own.hands;
                }
            }
        }
        running.sort_unstable();
        let mut free: Vec<Minute> = Vec::new();
        for (start, index, hands) in running {
            let Stage::Running { mode, .. } = self.stages[index] else { continue };
            let own = &mut self.problem.steps[index].modes[mode];
            there -= hands;
            if there >= 0 {
                free.push(start + own.min);
            } else {
                there += hands;
                let pause = free.iter().min().map_or(0, |&free| (free - now).max(0));
                (own.min, own.max, own.hands) = (own.min + pause, own.max + pause, 0);
                free.push(start + own.min);
            }
        }
    }

    /// Running steps whose place is gone, the youngest first where some of several burners are.
    fn interrupt_broken(&mut self) {
        let mut homeless: Vec<usize> = Vec::new();
        for place in &self.problem.places {
            let works = match (place, self.day.broken.get(place.id())) {
                (_, Some(Breakdown::Whole)) => 0,
                (Place::Hob(hob), Some(Breakdown::Burners(_))) => usize::try_from(hob.count).unwrap_or(0),
                _ => continue,
            };
            let mut running: Vec<(Minute, usize)> = Vec::new();
            for (index, stage) in self.stages.iter().enumerate() {
                if let Stage::Running { mode, start, .. } = *stage
                    && self.problem.steps[index].modes[mode].place.as_deref() == Some(place.id())
                {
                    running.push((start, index));
                }
            }
            running.sort_unstable();
            homeless.extend(running.iter().skip(works).map(|&(_, index)| index));
        }
        homeless.into_iter().for_each(|index| self.interrupt(index));
    }

    /// A running step goes on elsewhere: its ways in other places need the minutes that are left, and some for the move.
    pub(super) fn interrupt(&mut self, index: usize) {
        let Stage::Running { mode, start, .. } = self.stages[index] else { return };
        let now = self.now();
        let step = &mut self.problem.steps[index];
        let (was, whole) = (step.modes[mode].place.clone(), step.modes[mode].min.max(1));
        // In an oven that is broken nothing has cooked since.
        let since =
            was.as_ref().and_then(|place| self.day.broken_since.get(place)).map_or(now, |&since| since.min(now));
        let left = (whole - (since - start)).clamp(0, whole);
        for own in step.modes.iter_mut().filter(|own| own.place != was) {
            let slack = own.max - own.min;
            own.min = (own.min * left / whole + MOVED).max(own.load + own.unload);
            (own.max, own.shut) = (own.min + slack, own.shut.min(own.min));
            own.touches.clear();
        }
        self.interrupted.insert(step.id.clone());
    }
}

/// When a course should be served, early and late guests counted.
pub(super) fn wanted(course: &Course, day: &Day) -> Minute {
    (course.serve + day.put_off.get(&course.id).copied().unwrap_or(0)).max(0)
}

fn short(touch: &Touch) -> bool {
    touch.minutes <= Touch::LONGEST_IN_PASSING
}

/// On the sheets, basting, stirring and probing are done beside other work.
fn pass(problem: &mut Problem) {
    let modes = problem.steps.iter_mut().flat_map(|step| &mut step.modes);
    modes.flat_map(|mode| &mut mode.touches).filter(|touch| short(touch)).for_each(|touch| touch.passing = true);
}

/// What takes a moment is put in and taken out between two moves of other work.
pub(super) fn in_passing(mode: &mut Mode) {
    let longer = |minutes: Minute| if minutes > MOMENT { minutes } else { 0 };
    (mode.load, mode.unload) = (longer(mode.load), longer(mode.unload));
}

/// For the search they are nothing at all: whoever is near does them.
pub(super) fn pass_over(problem: &mut Problem) {
    let modes = problem.steps.iter_mut().flat_map(|step| &mut step.modes);
    modes.for_each(|mode| mode.touches.retain(|touch| !short(touch)));
}

pub(super) fn as_cavity(place: &Place) -> Option<&Cavity> {
    match place {
        Place::Cavity(cavity) => Some(cavity),
        Place::Hob(_) | Place::Top(_) => None,
    }
}

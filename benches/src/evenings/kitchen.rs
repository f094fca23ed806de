//! The kitchen as it really is, minute by minute.

use std::collections::{BTreeMap, BTreeSet};

use rangewright::models::day::Event;
use rangewright::models::oven::changeover;
use rangewright::models::pack::Packer;
use rangewright::models::plan::{Plan, PlannedStep};
use rangewright::models::problem::{Course, Minute, Mode, Place, Problem, Step};
use rangewright::models::schedule::{Crew, Schedule, What, schedule_with};

use super::Luck;

/// A cook begins the next thing so many minutes before the last is quite done.
const OVERLAP: Minute = 2;
/// A cook who is away longer than this has gone for the day, and stays if there is work.
const AWAY: Minute = 60;

/// Something a cook sees, and by how many minutes it differs from the sheet.
pub(super) struct Seen {
    pub(super) event: Event,
    pub(super) off: Minute,
}

#[derive(Clone, Copy)]
struct Run {
    mode: usize,
    start: Minute,
    end: Option<Minute>,
    /// When it is really done; of what is elastic, at the earliest.
    done: Minute,
    elastic: bool,
    /// Whether the cooks have said that it takes longer.
    said: bool,
}

/// A kitchen with cooks who follow a sheet.
pub struct Kitchen<'a> {
    problem: &'a Problem,
    crew: &'a Crew,
    luck: &'a Luck,
    sheet: Plan,
    /// Who does the whole of a step.
    works: BTreeMap<String, Vec<usize>>,
    runs: BTreeMap<String, Run>,
    served: BTreeMap<String, Minute>,
    packer: Packer,
}

impl<'a> Kitchen<'a> {
    /// Before anything has begun.
    pub fn new(problem: &'a Problem, plan: &Plan, crew: &'a Crew, luck: &'a Luck) -> Self {
        let schedule = schedule_with(problem, plan, crew);
        let mut kitchen = Kitchen {
            problem,
            crew,
            luck,
            sheet: plan.clone(),
            works: BTreeMap::new(),
            runs: BTreeMap::new(),
            served: BTreeMap::new(),
            packer: Packer::new(),
        };
        kitchen.follow(plan, schedule);
        kitchen
    }

    /// From now on the cooks follow another sheet.
    pub(super) fn follow(&mut self, plan: &Plan, schedule: Schedule) {
        self.sheet = plan.clone();
        self.works.clear();
        for job in schedule.jobs {
            if let What::Work { step } = job.what {
                self.works.insert(step, job.cooks);
            }
        }
    }

    /// Whether every course has been served.
    pub(super) fn over(&self) -> bool {
        self.problem.courses.iter().all(|course| self.served.contains_key(&course.id))
    }

    /// By how much a course was late; as if it went out six hours late if it never did.
    pub(super) fn late(&self, course: &Course) -> Minute {
        self.served.get(&course.id).map_or(super::TOO_LATE, |at| (at - course.serve).max(0))
    }

    /// Minutes that food stood or waited longer than it may.
    pub(super) fn spoiled(&self) -> Minute {
        let end = |step: &str| self.runs.get(step).and_then(|run| run.end);
        let links = self.problem.links.iter().filter_map(|link| {
            let gap = self.runs.get(&link.to)?.start - end(&link.from)?;
            Some((gap - link.max?).max(0))
        });
        let sinks = self.problem.courses.iter().flat_map(|course| {
            let served = self.served.get(&course.id).copied();
            course.sinks.iter().filter_map(move |sink| Some((served? - end(&sink.step)? - course.together).max(0)))
        });
        links.chain(sinks).sum()
    }

    /// One minute: what ends, what goes out, what begins; and what the cooks see of it.
    pub(super) fn minute(&mut self, now: Minute) -> Vec<Seen> {
        let mut seen = Vec::new();
        // Something that ends may let something begin that ends something else.
        while self.ends(now, &mut seen) | self.serves(now, &mut seen) | self.begins(now, &mut seen) {}
        self.overruns(now, &mut seen);
        seen
    }

    fn ends(&mut self, now: Minute, seen: &mut Vec<Seen>) -> bool {
        let mut changed = false;
        for (id, run) in &mut self.runs {
            let planned = self.sheet.steps.get(id).map_or(now, |own| own.end);
            let ends = run.end.is_none() && now >= run.done && (!run.elastic || now >= planned);
            if ends {
                run.end = Some(now);
                changed = true;
                seen.push(Seen { event: Event::Finished { step: id.clone() }, off: (now - planned).abs() });
            }
        }
        changed
    }

    fn serves(&mut self, now: Minute, seen: &mut Vec<Seen>) -> bool {
        let mut changed = false;
        for course in &self.problem.courses {
            let planned = self.sheet.served.get(&course.id).copied().unwrap_or(course.serve);
            let done = |step: &str| self.runs.get(step).is_some_and(|run| run.end.is_some());
            let given_up = |step: &str| !self.sheet.steps.contains_key(step);
            let ready = course.sinks.iter().all(|sink| done(&sink.step) || given_up(&sink.step));
            let before =
                course.after.as_ref().map_or(Some(now), |after| Some(self.served.get(&after.course)? + after.min));
            if !self.served.contains_key(&course.id)
                && ready
                && now >= course.serve.max(planned.min(now.max(course.serve)))
                && before.is_some_and(|before| now >= before)
            {
                self.served.insert(course.id.clone(), now);
                changed = true;
                seen.push(Seen { event: Event::Served { course: course.id.clone() }, off: (now - planned).abs() });
            }
        }
        changed
    }

    fn begins(&mut self, now: Minute, seen: &mut Vec<Seen>) -> bool {
        let mut due: Vec<(Minute, &Step, PlannedStep)> = Vec::new();
        for step in self.problem.steps.iter().filter(|step| !self.runs.contains_key(&step.id)) {
            if let Some(planned) = self.sheet.steps.get(&step.id).filter(|own| own.start <= now) {
                due.push((planned.start, step, planned.clone()));
            }
        }
        due.sort_by_key(|(start, step, _)| (*start, &step.id));
        let mut changed = false;
        for (start, step, planned) in due {
            let Some(mode) = step.modes.get(planned.mode) else { continue };
            if !(self.follows(step, now) && self.has_cooks(step, mode, now) && self.has_room(step, mode, now)) {
                continue;
            }
            let done = now + self.luck.minutes(&step.id, mode);
            let elastic = mode.min < mode.max;
            self.runs
                .insert(step.id.clone(), Run { mode: planned.mode, start: now, end: None, done, elastic, said: false });
            changed = true;
            let event = Event::Started { step: step.id.clone(), mode: Some(planned.mode) };
            seen.push(Seen { event, off: now - start });
        }
        changed
    }

    /// What runs past the minute at which the sheet has it done: the cooks see how much longer it needs.
    fn overruns(&mut self, now: Minute, seen: &mut Vec<Seen>) {
        for (id, run) in &mut self.runs {
            let Some(planned) = self.sheet.steps.get(id) else { continue };
            if run.end.is_none() && !run.said && run.done > now && now >= planned.end && !run.elastic {
                run.said = true;
                let minutes = run.done - now;
                seen.push(Seen { event: Event::Needs { step: id.clone(), minutes }, off: minutes });
            }
        }
    }

    fn follows(&self, step: &Step, now: Minute) -> bool {
        self.problem.links.iter().filter(|link| link.to == step.id).all(|link| match self.runs.get(&link.from) {
            Some(run) => now >= run.end.unwrap_or(if link.min < 0 { run.done } else { Minute::MAX / 2 }) + link.min,
            None => !self.sheet.steps.contains_key(&link.from),
        })
    }

    /// Whether those who do all of it are there and have no other work. Putting in, taking out and stirring are done in passing.
    fn has_cooks(&self, step: &Step, mode: &Mode, now: Minute) -> bool {
        if mode.hands == 0 {
            return true;
        }
        let busy: BTreeSet<usize> = (self.runs.iter())
            .filter(|(id, run)| run.end.is_none() && run.done > now + OVERLAP && self.works.contains_key(*id))
            .flat_map(|(id, _)| self.works[id].iter().copied())
            .collect();
        let there = |cook: usize| {
            let Some(cook) = self.crew.cooks.get(cook) else { return true };
            let back = cook.present.iter().filter(|spell| spell[1] > now).map(|spell| spell[0]).min();
            back.is_none_or(|back| back <= now || back - now > AWAY)
        };
        self.works.get(&step.id).is_none_or(|cooks| cooks.iter().all(|&cook| !busy.contains(&cook) && there(cook)))
    }

    fn has_room(&mut self, step: &Step, mode: &Mode, now: Minute) -> bool {
        let Some(place) = self.problem.places.iter().find(|place| Some(place.id()) == mode.place.as_deref()) else {
            return true;
        };
        let stays = |id: &str| self.problem.links.iter().any(|link| link.stay && link.from == id && link.to == step.id);
        let mut beside: Vec<&Mode> = Vec::new();
        for own in self.problem.steps.iter() {
            let Some(run) = self.runs.get(&own.id) else { continue };
            let other = &own.modes[run.mode];
            if other.place != mode.place {
                continue;
            }
            if run.end.is_none() {
                beside.push(other);
            }
            if let (Place::Cavity(cavity), Some(from), Some(to)) = (place, other.t, mode.t) {
                let between = changeover(cavity, from, to).filter(|_| !stays(&own.id));
                if between.is_some_and(|minutes| run.end.is_none_or(|end| now < end + minutes)) {
                    return false;
                }
            }
        }
        beside.push(mode);
        match place {
            Place::Hob(hob) => beside.len() as i64 <= hob.count,
            Place::Top(top) => {
                let pans: Vec<i64> = beside.iter().filter_map(|mode| mode.diameter).collect();
                self.packer.fits_top(top, &pans).is_yes()
            }
            Place::Cavity(cavity) => {
                let pans: Vec<[i64; 3]> = beside.iter().filter_map(|mode| mode.pan).collect();
                let weights: Vec<i64> = beside.iter().filter_map(|mode| mode.weight).collect();
                let alike = beside
                    .iter()
                    .all(|other| other.heat == mode.heat && !(other.wet && mode.dry || other.dry && mode.wet));
                alike && self.packer.fits_cavity(cavity, &pans, &weights).is_yes()
            }
        }
    }
}

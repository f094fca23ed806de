//! Evenings played to their end: is a cook who logs and follows the new plans better off than one who carries on?
//!
//! A [`Luck`] says how long everything really takes; the [`Kitchen`] is where it happens, minute by minute, with cooks who
//! follow the sheet they were given last. What they log, and when, is the [`Arm`]. Nothing here is measured by a clock, so
//! the same seed gives the same evening.

mod kitchen;
mod luck;

use rangewright::Limits;
use rangewright::models::day::{Entry, Event, fold};
use rangewright::models::plan::Plan;
use rangewright::models::problem::{Minute, Problem};
use rangewright::models::schedule::Crew;
use rangewright::replan::{Replanned, replan};
use serde::Serialize;

pub use kitchen::Kitchen;
pub use luck::Luck;

/// What the cooks log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Arm {
    /// Nothing: they carry on by the first sheet.
    Nothing,
    /// Only what is ten minutes off or more.
    Big,
    /// Every start, every end, and what is not done when it should be.
    Everything,
}

impl Arm {
    /// All of them.
    pub const ALL: [Arm; 3] = [Arm::Nothing, Arm::Big, Arm::Everything];

    /// From how many minutes on something is worth a line in the log.
    fn notices(self) -> Option<Minute> {
        match self {
            Arm::Nothing => None,
            Arm::Big => Some(10),
            Arm::Everything => Some(1),
        }
    }
}

/// What an evening came to.
#[derive(Clone, Debug, Default, PartialEq, Serialize)]
pub struct Evening {
    /// Minutes late of the course that weighs most.
    pub main_late: Minute,
    /// Minutes late of all courses together.
    pub all_late: Minute,
    /// Minutes that dishes stood longer than their course allows, and food waited longer than its link allows.
    pub spoiled: Minute,
    /// New plans that were asked for.
    pub asked: usize,
    /// New plans that moved more than three jobs.
    pub upset: usize,
    /// By how many minutes the worst announcement of the main's lateness was wrong on the late side.
    pub false_alarm: Minute,
    /// New plans that broke a rule of the menu still to come.
    pub hopeless: usize,
}

/// How many minutes after the last planned serving an evening is given up.
const TOO_LATE: Minute = 360;

/// Plays an evening.
pub fn play(problem: &Problem, plan: &Plan, crew: &Crew, luck: &Luck, arm: Arm, limits: &Limits<'_>) -> Evening {
    let mut evening = Evening::default();
    let mut kitchen = Kitchen::new(problem, plan, crew, luck);
    let mut paper = plan.clone();
    let mut log: Vec<Entry> = Vec::new();
    let main = problem.courses.iter().max_by_key(|course| course.weight);
    let mut told_late: Vec<Minute> = Vec::new();
    let first = plan.steps.values().map(|own| own.start).min().unwrap_or(problem.opening);
    let last = plan.served.values().max().copied().unwrap_or(first) + TOO_LATE;
    for now in first..last {
        let seen = kitchen.minute(now);
        if kitchen.over() {
            break;
        }
        let Some(notices) = arm.notices() else { continue };
        let news: Vec<Event> = seen
            .into_iter()
            .filter(|seen| seen.off >= notices || arm == Arm::Everything)
            .map(|own| own.event)
            .collect();
        if news.is_empty() {
            continue;
        }
        log.extend(news.into_iter().map(|event| Entry { at: now, event }));
        let Ok(day) = fold(problem, &paper, &log, now) else {
            evening.hopeless += 1;
            log.pop();
            continue;
        };
        evening.asked += 1;
        match replan(problem, &paper, &day, crew, limits) {
            Ok(Replanned::Planned(new)) => {
                evening.upset += usize::from(new.moved.len() > 3);
                let own = new.servings.iter().find(|own| main.is_some_and(|main| main.id == own.course));
                told_late.extend(own.map(|own| own.late()));
                paper = new.plan.clone();
                kitchen.follow(&paper, new.schedule);
            }
            Ok(_) => {}
            Err(_) => evening.hopeless += 1,
        }
    }
    evening.main_late = main.map_or(0, |main| kitchen.late(main));
    evening.all_late = problem.courses.iter().map(|course| kitchen.late(course)).sum();
    evening.spoiled = kitchen.spoiled();
    evening.false_alarm = told_late.into_iter().map(|told| told - evening.main_late).max().unwrap_or(0).max(0);
    evening
}

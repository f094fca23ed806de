//! What a new plan changes for those who have the old one in their hands.

use rangewright_models::day::Stage;
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::Minute;
use rangewright_models::schedule::Schedule;
use serde::{Deserialize, Serialize};

use super::today::Today;

/// A course that has not been served yet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Served {
    /// The course.
    pub course: String,
    /// When it should be served, late guests counted.
    pub wanted: Minute,
    /// When it was to be served by the last plan; absent if that did not say.
    pub before: Option<Minute>,
    /// When it is served now.
    pub at: Minute,
}

impl Served {
    /// Minutes later than wanted.
    pub fn late(&self) -> Minute {
        (self.at - self.wanted).max(0)
    }
}

/// A step that is not where or when the last plan had it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Moved {
    /// The step.
    pub step: String,
    /// As it was planned.
    pub from: PlannedStep,
    /// As it is planned now; absent if nobody needs it any more.
    pub to: Option<PlannedStep>,
    /// Whether it is in another place, or another way of doing it.
    pub place: bool,
    /// Who was to have their hands on it, and who is now, where that differs.
    pub cooks: Option<[Vec<String>; 2]>,
    /// Whether it had been started already, so that only its end moves.
    pub running: bool,
}

pub(super) fn servings(today: &Today<'_>, whole: &Plan) -> Vec<Served> {
    let open = today.problem.courses.iter().filter(|course| !today.day.served.contains_key(&course.id));
    let served = |course: &rangewright_models::problem::Course| {
        let at = *whole.served.get(&course.id)?;
        let before = today.old.served.get(&course.id).copied();
        Some(Served { course: course.id.clone(), wanted: course.serve, before, at })
    };
    open.filter_map(served).collect()
}

pub(super) fn moved(today: &Today<'_>, whole: &Plan, day: &Schedule) -> Vec<Moved> {
    let mut moved: Vec<Moved> = Vec::new();
    for (step, stage) in today.problem.steps.iter().zip(&today.stages) {
        let (Some(from), to) = (today.old.steps.get(&step.id), whole.steps.get(&step.id)) else { continue };
        let running = matches!(stage, Stage::Running { .. });
        let place = to.is_some_and(|to| to.mode != from.mode) && !matches!(stage, Stage::Done { .. });
        let minutes = match stage {
            Stage::Done { .. } => continue,
            Stage::Running { .. } => to.is_some_and(|to| to.end != from.end),
            Stage::Waiting => to.is_none_or(|to| (to.start, to.end) != (from.start, from.end)),
        };
        let [before, after] = [hands_on(&today.old_day, &step.id), hands_on(day, &step.id)];
        // What is done in passing is anybody's.
        let other_hands = !running && to.is_some() && !after.is_empty() && before != after;
        if place || minutes || other_hands {
            let cooks = other_hands.then_some([before, after]);
            let (step, from, to) = (step.id.clone(), from.clone(), to.cloned());
            moved.push(Moved { step, from, to, place, cooks, running });
        }
    }
    moved.sort_by_key(|own| (own.to.as_ref().map_or(own.from.start, |to| to.start), own.step.clone()));
    moved
}

/// The cooks who start a step or do all of it.
fn hands_on(day: &Schedule, step: &str) -> Vec<String> {
    let own = day.jobs.iter().find(|job| job.what.busy() && job.what.step() == Some(step));
    own.map(|job| job.cooks.iter().filter_map(|&cook| day.cooks.get(cook).cloned()).collect()).unwrap_or_default()
}

/// The steps still to be started that a plan does in another way than was planned, with that way.
pub(super) fn elsewhere(today: &Today<'_>, whole: &Plan) -> Vec<(String, usize)> {
    let other = |(step, stage): (&rangewright_models::problem::Step, &Stage)| {
        let (old, new) = (today.old.steps.get(&step.id)?, whole.steps.get(&step.id)?);
        (old.mode != new.mode && !matches!(stage, Stage::Done { .. })).then(|| (step.id.clone(), new.mode))
    };
    today.problem.steps.iter().zip(&today.stages).filter_map(other).collect()
}

/// How much a plan changes: steps in another place, steps at other minutes, and by how many minutes in all.
pub(super) fn size(today: &Today<'_>, whole: &Plan) -> [i64; 3] {
    let mut size = [0; 3];
    for (id, old) in &today.old.steps {
        let Some(new) = whole.steps.get(id) else { continue };
        let minutes = (new.start - old.start).abs() + (new.end - old.end).abs();
        size[0] += i64::from(new.mode != old.mode);
        size[1] += i64::from(minutes > 0);
        size[2] += minutes;
    }
    size
}

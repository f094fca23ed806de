//! Everything that is done, in order of time.

use std::collections::{BTreeMap, BTreeSet};

use super::crew::Crew;
use super::data::{Job, Schedule, Serving, What};
use super::hands;
use super::running::Runs;
use crate::plan::Plan;
use crate::problem::{Minute, Problem};

/// When each course goes out: as the plan says, or the least its sinks, `serve` and `after` allow.
pub(super) fn servings(problem: &Problem, plan: &Plan, runs: &Runs<'_>) -> Vec<Serving> {
    let end: BTreeMap<&str, Minute> = runs.all.iter().map(|run| (run.id(), run.end)).collect();
    let mut at: BTreeMap<&str, Minute> = BTreeMap::new();
    // A course is later than those it follows: as many rounds as courses settle any order of them.
    for _ in &problem.courses {
        for course in &problem.courses {
            let sinks = course.sinks.iter().filter_map(|sink| end.get(sink.step.as_str()).copied());
            let after =
                course.after.as_ref().and_then(|after| Some(at.get(after.course.as_str())?.saturating_add(after.min)));
            let least = sinks.chain(after).fold(course.serve, Minute::max);
            at.insert(&course.id, plan.served.get(&course.id).copied().unwrap_or(least));
        }
    }
    let serving = |course: &crate::problem::Course| {
        let at = at.get(course.id.as_str()).copied().unwrap_or(course.serve);
        Serving { course: course.id.clone(), at, slip: at.saturating_sub(course.serve) }
    };
    let mut servings: Vec<Serving> = problem.courses.iter().map(serving).collect();
    servings.sort_by_key(|serving| serving.at);
    servings
}

/// Hands-on work, and what is done in passing beside it.
pub(super) fn jobs(runs: &Runs<'_>, crew: &Crew, day: &Schedule, planned: Option<Vec<Job>>) -> Vec<Job> {
    let mut jobs = planned.unwrap_or_else(|| hands::assign(&runs.all, crew));
    let passing = in_passing(runs, day);
    let beside: Vec<Job> = passing
        .into_iter()
        .map(|(at, until, what)| Job { at, until, cooks: says(&jobs, crew, runs, at, &what), what })
        .collect();
    jobs.extend(beside);
    jobs.sort_by(|a, b| (a.at, &a.what, a.until).cmp(&(b.at, &b.what, b.until)));
    jobs
}

fn in_passing(runs: &Runs<'_>, day: &Schedule) -> Vec<(Minute, Minute, What)> {
    let mut passing = Vec::new();
    for cavity in &day.cavities {
        for (setting, turn) in cavity.settings.iter().enumerate() {
            passing.push((turn.at, turn.at, What::Dial { place: cavity.place.clone(), setting }));
        }
        for (step, at) in cavity.shifts() {
            passing.push((at, at, What::Shift { place: cavity.place.clone(), step: step.to_owned() }));
        }
    }
    for run in runs.all.iter().filter(|run| run.mode.hands == 0 && run.mode.load == 0) {
        passing.push((run.start, run.end, What::Leave { step: run.id().to_owned() }));
    }
    for serving in &day.servings {
        passing.push((serving.at, serving.at, What::Serve { course: serving.course.clone() }));
    }
    passing
}

/// Whose sheet says what is done in passing: the cook who is at the same place or dish just then, else one who is there
/// and has both hands free, else one who is there. A course goes out with everybody who is there.
fn says(jobs: &[Job], crew: &Crew, runs: &Runs<'_>, at: Minute, what: &What) -> Vec<usize> {
    let there: Vec<usize> = (0..crew.cooks.len()).filter(|&cook| crew.cooks[cook].is_present(at, at)).collect();
    if there.is_empty() {
        // An oven may have to be lit before anybody is due: then it falls to whoever is nearest.
        let away = |cook: &usize| {
            let presences = crew.cooks[*cook].present.iter();
            presences
                .map(|&[start, end]| start.saturating_sub(at).max(at.saturating_sub(end)))
                .min()
                .unwrap_or(Minute::MAX)
        };
        return (0..crew.cooks.len()).min_by_key(away).into_iter().collect();
    }
    if matches!(what, What::Serve { .. }) || there.len() < 2 {
        return there;
    }
    let run = |step: &str| runs.of(step);
    let belongs = |job: &&Job| {
        let other = job.what.step().and_then(run);
        match (what, other) {
            (What::Dial { place, .. } | What::Shift { place, .. }, Some(other)) => {
                other.mode.place.as_ref() == Some(place) && job.at <= at && at <= job.until
            }
            (_, Some(other)) => {
                what.step().and_then(run).is_some_and(|own| own.step.dish == other.step.dish) && job.at <= at
            }
            _ => false,
        }
    };
    let near: Option<usize> = jobs
        .iter()
        .filter(|job| job.what.busy())
        .filter(belongs)
        .max_by_key(|job| job.at)
        .and_then(|job| job.cooks.iter().copied().find(|cook| there.contains(cook)));
    let busy: BTreeSet<usize> =
        jobs.iter().filter(|job| job.at < at && at < job.until).flat_map(|job| job.cooks.iter().copied()).collect();
    let free = || there.iter().copied().find(|cook| !busy.contains(cook));
    near.or_else(free).or_else(|| there.first().copied()).into_iter().collect()
}

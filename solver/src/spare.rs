//! A plan that keeps a share of each cook free in the last half hour before each serving: for whatever goes wrong.
//!
//! The free minutes are work like any other to the search: a step for each pair of hands, in a course of its own that goes
//! out with the one it is for. They lie in one piece anywhere in the half hour. If whose work is whose would still leave
//! one cook without, all hands are kept free at the same time.

use std::collections::BTreeMap;

use rangewright_models::check::cost;
use rangewright_models::plan::{Plan, Status};
use rangewright_models::problem::{After, Course, Dish, Minute, Mode, Problem, Sink, Step, Wait};
use rangewright_models::schedule::{Cook, Crew, schedule_with};
use serde::{Deserialize, Serialize};

use crate::{Error, Limits, Outcome, Planned, StopReason, solve};

/// The minutes before a serving that the share is of.
pub const LAST: Minute = 30;

/// What came of asking for spare hands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Spared {
    /// There is such a plan, as punctual as any that was found without.
    Kept(Box<Kept>),
    /// Not without serving later, as far as the search can tell.
    Refused(Box<Refused>),
    /// There is no plan even without spare hands, or none was found: ask [`solve`] why.
    NoPlan(Box<Outcome>),
}

/// A plan with spare hands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Kept {
    /// A plan of the problem that was asked about. Its bounds are those without spare hands, so that the gap is their price.
    pub planned: Planned,
    /// Minutes in one piece for which each cook is free, before each serving.
    pub minutes: Minute,
    /// By how much waiting costs more than without.
    pub waiting: i64,
}

/// Why not, and what would be possible.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Refused {
    /// The most whole minutes that can be kept free without serving later; 0 if none.
    pub minutes: Minute,
    /// The most percent that come to that, for asking again.
    pub percent: u32,
    /// If what was asked for can be had by serving later: by how many minutes for each course.
    pub later: Option<Vec<(String, Minute)>>,
    /// Whether that it cannot be had on time is proved.
    pub proved: bool,
}

/// Plans with `percent` of the last half hour before each serving kept free for each cook who is in the kitchen for all of
/// that half hour.
///
/// `limits` are those of one search; there are at most eight.
///
/// # Errors
/// [`Error::Limit`] if `percent` is not within 0 to 100; else as [`solve`].
///
/// ```
/// # use rangewright::models::{problem::Problem, schedule::Crew};
/// use rangewright::{Limits, spare::{Spared, keep}};
/// let problem: Problem = serde_json::from_str(r#"{
///     "name": "toast", "opening": 0, "shifts": [{"start": 0, "end": 60, "hands": 1}], "pools": {}, "places": [],
///     "dishes": [{"id": "toast", "name": "Toast"}],
///     "courses": [{"id": "tea", "serve": 40, "weight": 1, "max_slip": 10, "together": 30, "after": null,
///         "sinks": [{"step": "butter", "wait": {"rate": 1, "soft": null, "rate_after": 1}}]}],
///     "steps": [{"id": "butter", "dish": "toast", "kind": "dress", "earliest": 10, "latest": null,
///         "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 20, "max": 20, "hands": 1}]}],
///     "links": []
/// }"#)?;
/// let limits = Limits { work: Some(1_000), ..Limits::default() };
/// // Twenty minutes of buttering leave ten of the last thirty.
/// assert!(matches!(keep(&problem, &Crew::of(&problem), 33, &limits)?, Spared::Kept(kept) if kept.minutes == 10));
/// let Spared::Refused(refused) = keep(&problem, &Crew::of(&problem), 50, &limits)? else { panic!("five too many") };
/// assert_eq!((refused.minutes, refused.percent, refused.proved), (10, 33, true));
/// assert_eq!(refused.later, Some(vec![("tea".to_owned(), 5)]));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn keep(problem: &Problem, crew: &Crew, percent: u32, limits: &Limits<'_>) -> Result<Spared, Error> {
    if percent > 100 {
        return Err(Error::Limit { field: "percent", problem: format!("{percent} is not within 0 to 100") });
    }
    let minutes = (LAST * Minute::from(percent) + 99) / 100;
    let without = match solve(problem, limits)? {
        Outcome::Planned(planned) => planned,
        other => return Ok(Spared::NoPlan(Box::new(other))),
    };
    let asked = with(problem, crew, minutes, &without, limits)?;
    let asked = match asked {
        Asked::Planned(kept, _) if kept.planned.plan.lateness <= without.plan.lateness => {
            return Ok(Spared::Kept(kept));
        }
        other => other,
    };
    let (late, proved) = match asked {
        Asked::Planned(kept, bound) => (Some(kept), bound > without.plan.lateness),
        Asked::Impossible => (None, true),
        Asked::Unknown => (None, false),
    };
    // The most that is punctual, by halving.
    let (mut most, mut too_many) = (0, minutes);
    while most + 1 < too_many {
        let middle = (most + too_many) / 2;
        match with(problem, crew, middle, &without, limits)? {
            Asked::Planned(kept, _) if kept.planned.plan.lateness <= without.plan.lateness => most = middle,
            _ => too_many = middle,
        }
    }
    let later = late.map(|kept| {
        let by = |course: &Course| {
            let [with, before] = [&kept.planned.plan, &without.plan].map(|plan| plan.served.get(&course.id).copied());
            let by = with.zip(before).map_or(0, |(with, before)| with - before);
            (by > 0).then(|| (course.id.clone(), by))
        };
        problem.courses.iter().filter_map(by).collect()
    });
    let percent = u32::try_from(100 * most / LAST).unwrap_or(0);
    Ok(Spared::Refused(Box::new(Refused { minutes: most, percent, later, proved })))
}

enum Asked {
    /// With a bound on the lateness of any such plan.
    Planned(Box<Kept>, i64),
    Impossible,
    Unknown,
}

/// A plan with so many minutes free for each cook, however late.
fn with(
    problem: &Problem,
    crew: &Crew,
    minutes: Minute,
    without: &Planned,
    limits: &Limits<'_>,
) -> Result<Asked, Error> {
    if minutes == 0 {
        let kept = Kept { planned: without.clone(), minutes, waiting: 0 };
        return Ok(Asked::Planned(Box::new(kept), without.plan.bounds[0]));
    }
    for at_once in [false, true] {
        let planned = match solve(&extended(problem, crew, minutes, at_once), limits)? {
            Outcome::Planned(planned) => planned,
            // All hands at the same time is only one way of several.
            Outcome::Impossible(_) if !at_once => return Ok(Asked::Impossible),
            Outcome::Impossible(_) | Outcome::Undecided(_) => continue,
        };
        // All hands at the same time may have to be later than hands by turns.
        let bound = if at_once { without.plan.bounds[0] } else { planned.plan.bounds[0] };
        let kept = reduced(problem, planned, minutes, without)?;
        if each_is_free(problem, &kept.planned.plan, crew, minutes) {
            return Ok(Asked::Planned(Box::new(kept), bound));
        }
    }
    Ok(Asked::Unknown)
}

/// The problem with the free minutes as work.
fn extended(problem: &Problem, crew: &Crew, minutes: Minute, at_once: bool) -> Problem {
    let mut extended = problem.clone();
    let free = Wait::default();
    for course in problem.courses.iter().filter(|course| !course.sinks.is_empty()) {
        let there = |cook: &&Cook| cook.is_present(course.serve - LAST, course.serve);
        let hands = crew.cooks.iter().filter(there).count() as i64;
        let pieces = if at_once { hands.min(1) } else { hands };
        let mut own = Course {
            id: name(&course.id, "course"),
            weight: 0,
            together: LAST - minutes,
            sinks: Vec::new(),
            after: Some(After { course: course.id.clone(), min: 0, max: Some(0) }),
            ..course.clone()
        };
        for piece in 0..pieces {
            let id = name(&course.id, &piece.to_string());
            extended.dishes.push(Dish { id: id.clone(), name: id.clone() });
            let mode = Mode { hands: if at_once { hands } else { 1 }, ..Mode::at_counter(minutes, minutes) };
            let (dish, kind) = (id.clone(), "free".to_owned());
            own.sinks.push(Sink { step: id.clone(), wait: free, pools: BTreeMap::new() });
            extended.steps.push(Step { id, dish, kind, earliest: None, latest: None, wait: free, modes: vec![mode] });
        }
        if !own.sinks.is_empty() {
            extended.courses.push(own);
        }
    }
    extended
}

/// No id of a menu has a line break in it.
fn name(course: &str, what: &str) -> String {
    format!("spare hands\n{course}\n{what}")
}

/// The plan without the free minutes.
fn reduced(problem: &Problem, planned: Planned, minutes: Minute, without: &Planned) -> Result<Kept, Error> {
    let mut plan = planned.plan;
    plan.steps.retain(|id, _| problem.steps.iter().any(|step| step.id == *id));
    plan.served.retain(|id, _| problem.courses.iter().any(|course| course.id == *id));
    [plan.lateness, plan.waiting, plan.hot] = cost(problem, &plan).map_err(Error::Start)?.goals();
    let best = &without.plan;
    let as_good = |goals: usize| {
        let own = [plan.lateness, plan.waiting, plan.hot];
        own[..goals] == [best.lateness, best.waiting, best.hot][..goals]
    };
    let bound = |goal: usize| if as_good(goal) { best.bounds[goal] } else { 0 };
    plan.bounds = [best.bounds[0], bound(1), bound(2)];
    // What was searched had more steps: the plan is one of the menu all the same.
    plan.made_for = Some(problem.fingerprint());
    plan.status = if as_good(3) { best.status } else { Status::Feasible };
    let stopped_by = if plan.status == Status::Optimal { StopReason::Proof } else { planned.stopped_by };
    let waiting = plan.waiting - best.waiting;
    Ok(Kept { planned: Planned { plan, stopped_by, work: planned.work }, minutes, waiting })
}

/// Whether each cook who is there has so many minutes in one piece.
fn each_is_free(problem: &Problem, plan: &Plan, crew: &Crew, minutes: Minute) -> bool {
    let day = schedule_with(problem, plan, crew);
    day.servings.iter().all(|serving| {
        let from = serving.at - LAST;
        let there = crew.cooks.iter().enumerate().filter(|(_, cook)| cook.is_present(from, serving.at));
        there.into_iter().all(|(index, _)| {
            let own = day.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&index));
            let mut busy: Vec<[Minute; 2]> = own.map(|job| [job.at, job.until]).collect();
            busy.push([serving.at, serving.at]);
            busy.sort_unstable();
            let mut free = from;
            busy.into_iter().any(|[at, until]| {
                let enough = at.min(serving.at) - free >= minutes;
                free = free.max(until);
                enough
            })
        })
    })
}

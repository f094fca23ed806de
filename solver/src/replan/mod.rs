//! A new plan for the rest of the day.
//!
//! What is done is a fact, even where it broke a rule; what runs goes on; the rest is planned again, by the rules of the menu
//! and by the ordinary search. Every plan of the rest passes the checker as a problem of its own.
//!
//! # What is handed out
//!
//! 1. **The last plan, untouched**, if nothing is amiss.
//! 2. **The last plan, carried on with**: its ways, its cooks and its order, each event pushed on as far as what has happened
//!    demands and no farther; what had been put off for something that then took less long is pulled forward again. That is
//!    exact, and no search. It is what the cooks would do anyway, so it is what every other plan has to beat. First by all
//!    rules of the menu; where that cannot be, or is late, with minutes past some rules sold at the prices below.
//! 3. **A search** for the rest, under those same prices, only if carrying on gives up more than people know already, by more
//!    than a little. Whatever it moves needlessly is moved back, and ways that need not change stay.
//! 4. Of all these the one with the lowest price. Before it is handed out it is given room: what is in doubt is begun a little
//!    sooner, as far as the menu lets it wait, so that what then takes longer makes nothing late. How late the evening is likely
//!    to become is played a hundred times with and without; what is gained, at the price of lateness, has to be more than what
//!    moves.
//! 5. Where even that is no plan, cooks stay longer; then food waits for as long as it must; then what runs runs out first.
//!
//! # What is for sale, and at what price
//!
//! The rest of an evening is planned by the same rules as the menu, and by the same search. What has happened may leave no
//! plan that keeps all of them, or only one that is far too late. Then rules are not dropped but sold, each minute past a
//! rule at a price, so that as few minutes as possible are past any.
//!
//! 1. **Safety is not for sale.** Nothing cooks for more or fewer minutes than the menu says, nothing that must follow at
//!    once is parted from what it follows, no place takes more than it holds, no oven is two temperatures at once. Only what
//!    rests, rises or is kept may last longer, and food may stand 45 minutes longer than the menu allows; more than
//!    that only where what has happened already leaves no other way. The hazards are looked for in every new plan as in every
//!    other, and shown before everything else.
//! 2. **Lateness**: a minute costs its course's weight, three times.
//! 3. **Food past its best**: a minute that food stands, waits, rests or rises longer than the menu allows costs two. In the
//!    search it is waiting, at a rate above all others of a menu: the ordinary objective and the ordinary checker see to it.
//! 4. **What people already know**: a job that goes to another place costs three, a job at another time one, and ten minutes of
//!    moving one more. So a plan is only replaced by one that gains more than it unsettles.
//!
//! The plan with the lowest price is handed out. The figures are our choice.
//!
//! # What is no news
//!
//! Basting, stirring and probing are done in passing, and so, where it is tight, is putting in and taking out that takes up to
//! two minutes. A cook begins the next thing in the last two minutes of the one before. Work for which there is no hand is put
//! down, and gone on with when one of the others is done. Whoever would go home in the middle stays half an hour. A rule that
//! the day has broken already binds nobody afterwards.
//!
//! # What is said to be proved
//!
//! That nothing is less late: because only the clock and the guests have made it late, or because a search was exhausted in
//! which everything was allowed that the menu allows. A plan that gave up a rule proves nothing about the menu, nor does one that
//! was only carried on with.

mod air;
mod alarm;
mod changes;
mod company;
mod price;
mod push;
mod rescue;
mod rest;
mod room;
mod shift;
mod today;

use std::collections::BTreeSet;

use rangewright_models::check::{Violation, check, form};
use rangewright_models::day::Day;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Course, Minute, Problem};
use rangewright_models::schedule::{Crew, Schedule, schedule_with};
use serde::{Deserialize, Serialize};

use crate::{Error, Limits, Outcome, solve};

pub use alarm::Alarm;
pub use changes::{Moved, Served};
use push::{Pushed, pull, push, transplant};
pub use rescue::{Rescue, Way};
use rest::{Rest, Strictness};
use today::Today;

/// What came of re-planning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Replanned {
    /// The rest has a plan.
    Planned(Box<Replan>),
    /// Every course has been served.
    Over,
    /// There is no plan of the rest, even with every limit of time given up: something needed is broken.
    Hopeless,
    /// The limits of the search were reached before any plan was found.
    Undecided,
}

/// The new plan, and how it differs from the one that was handed out.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Replan {
    /// From when on it is new.
    pub now: Minute,
    /// The menu as it stands today: without what was dropped or is not needed any more.
    pub problem: Problem,
    /// The whole day: facts, and the plan of the rest. The plan for the next re-planning.
    pub plan: Plan,
    /// Who does what on that day. Each cook keeps what the last sheet said where that can be.
    pub schedule: Schedule,
    /// What was planned: the rest as a problem of its own, which begins now.
    pub rest: Problem,
    /// The plan of it, accepted by the checker.
    pub rest_plan: Plan,
    /// Whether no plan is proved to be less late.
    pub proved: bool,
    /// What has to be looked at now, before anything else.
    pub alarms: Vec<Alarm>,
    /// When the courses that have not been served are served now.
    pub servings: Vec<Served>,
    /// What changed for the cooks, in order of time.
    pub moved: Vec<Moved>,
    /// The rules of the menu that the day breaks, by what has happened or in what is still to come.
    pub broken: Vec<Violation>,
    /// If a course is late by [`WORTH_MENDING`] or more: what could be done about it, what keeps the menu whole first, then the most helpful.
    pub rescues: Vec<Rescue>,
}

/// From so many minutes on it is looked for what could be done about lateness: nobody turns an oven up for less.
pub const WORTH_MENDING: Minute = 5;

/// News that costs no more than this is followed as it is: the plan is pushed on, and nothing is sought.
const SMALL: i64 = 12;

/// Plans the rest of the day again.
///
/// `problem` is the menu's, `plan` the one that was handed out last, `day` where the day stands. `limits` are those of one
/// search; there is none while nothing is amiss.
///
/// # Errors
/// [`Error::Refused`] if the problem makes no sense; [`Error::Plan`] and [`Error::Changed`] if the plan is not one of it;
/// [`Error::Day`] if the day cannot be one of it;
/// [`Error::Internal`] as in [`solve`].
pub fn replan(problem: &Problem, plan: &Plan, day: &Day, crew: &Crew, limits: &Limits<'_>) -> Result<Replanned, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    limits.verify()?;
    form(problem, plan).map_err(Error::Plan)?;
    if plan.is_of_another(problem) {
        return Err(Error::Changed);
    }
    day.verify(problem).map_err(Error::Day)?;
    let today = Today::new(problem, plan, day, crew);
    if Rest::new(&today, Strictness::Menu, &BTreeSet::new()).is_none() {
        return Ok(Replanned::Over);
    }
    let found = match find(&today, limits)? {
        Sought::Found(found) => room::with_room(&today, *found),
        Sought::Undecided => return Ok(Replanned::Undecided),
        Sought::Nothing => return Ok(Replanned::Hopeless),
    };
    let sheet = sheet(&today, &found.whole);
    let schedule = schedule_with(&sheet, &found.whole, &today.crew);
    let mut replan = Replan {
        now: day.now,
        alarms: alarm::alarms(&today),
        servings: changes::servings(&today, &found.whole),
        moved: changes::moved(&today, &found.whole, &schedule),
        schedule,
        broken: broken(problem, &today, &found.whole),
        rescues: Vec::new(),
        problem: sheet,
        plan: Plan { made_for: Some(problem.fingerprint()), ..found.whole },
        rest: found.rest.problem,
        rest_plan: found.plan,
        proved: found.proved,
    };
    if replan.servings.iter().any(|served| served.late() >= WORTH_MENDING) {
        replan.rescues = rescue::rescues(&today, &replan.servings, replan.rest_plan.lateness, limits);
    }
    Ok(Replanned::Planned(Box::new(replan)))
}

/// A plan of the rest that the checker accepts.
struct Found {
    rest: Rest,
    plan: Plan,
    whole: Plan,
    proved: bool,
}

/// What came of looking for a plan.
enum Sought {
    Found(Box<Found>),
    /// The limits came first.
    Undecided,
    /// There is none.
    Nothing,
}

fn find(today: &Today<'_>, limits: &Limits<'_>) -> Result<Sought, Error> {
    if let Some(found) = handed_out(today) {
        return Ok(Sought::Found(Box::new(found)));
    }
    if let Some(found) = weighed(today, limits)? {
        return Ok(Sought::Found(Box::new(found)));
    }
    let mut sought = Sought::Nothing;
    for strictness in [Strictness::Late, Strictness::Anything, Strictness::InTurn] {
        sought = find_within(today, strictness, limits)?;
        if matches!(sought, Sought::Found(_)) {
            break;
        }
    }
    Ok(sought)
}

/// Of the plans that were pushed on or found, the one that gives up least by its [`price`].
fn weighed(today: &Today<'_>, limits: &Limits<'_>) -> Result<Option<Found>, Error> {
    let (menu, _) = push(today, &today.old, Strictness::Menu);
    let on_time = |own: &Pushed| own.plan.lateness == unavoidable(&own.rest.problem);
    if let Some(own) = menu.as_ref().filter(|own| on_time(own)) {
        return Ok(Some(own.clone().found(true)));
    }
    let (loose, given) = push(today, &today.old, Strictness::Facts);
    let rest = loose.as_ref().map(|own| own.rest.clone()).or_else(|| Rest::new(today, Strictness::Facts, &given));
    let Some(rest) = rest.filter(|rest| rest.problem.faults().is_empty()) else {
        return Ok(menu.or(loose).map(|own| own.found(false)));
    };
    let pushed: Vec<Pushed> = [menu, loose].into_iter().flatten().collect();
    let worth = |own: &Pushed| price::price(today, &own.whole);
    // What people know already, and what the clock has made, is no news.
    let known = |own: &Pushed| price::LATE * unavoidable(&own.rest.problem).max(told(today));
    let small = |own: &&Pushed| worth(own) - known(own) <= SMALL;
    if let Some(own) = pushed.iter().filter(small).min_by_key(|own| worth(own)) {
        let proved = on_time(own);
        return Ok(Some(own.clone().found(proved)));
    }
    let starts = pushed.iter().min_by_key(|own| worth(own)).and_then(|own| rest.plan(today, &own.whole));
    let start = starts.filter(|plan| check(&rest.problem, plan).is_ok());
    let searched = match solve(&rest.problem, &Limits { start: start.as_ref(), ..*limits })? {
        Outcome::Planned(planned) => Some(planned.plan),
        Outcome::Impossible(_) | Outcome::Undecided(_) => None,
    };
    let bound = searched.as_ref().map(|plan| plan.bounds[0]);
    let mut all = pushed;
    if let Some(plan) = searched {
        all.extend(transplant(today, &rest, &plan, Strictness::Facts));
        let pulled = pull(today, &rest, plan, Strictness::Facts);
        let whole = rest.whole(today, &pulled);
        all.push(Pushed { rest, plan: pulled, whole });
    }
    let best = all.into_iter().min_by_key(|own| (price::price(today, &own.whole), own.plan.lateness));
    Ok(best.map(|own| {
        // What gave up a rule proves nothing about the menu.
        let proved = on_time(&own) || price::stale(today, &own.whole) == 0 && bound == Some(own.plan.lateness);
        own.found(proved)
    }))
}

/// The plan that was handed out, if nothing is amiss: it then stands as it is, whatever a search might make of it.
fn handed_out(today: &Today<'_>) -> Option<Found> {
    let stands = |strictness: Strictness| {
        let rest = Rest::new(today, strictness, &BTreeSet::new())?;
        let plan = rest.plan(today, &today.old)?;
        check(&rest.problem, &plan).ok()?;
        let proved = today.old.bounds[0] == today.old.lateness || plan.lateness == unavoidable(&rest.problem);
        let whole = rest.whole(today, &plan);
        Some(Found { rest, plan, whole, proved })
    };
    today.as_planned.then(|| Strictness::ALL.into_iter().find_map(stands)).flatten()
}

fn find_within(today: &Today<'_>, strictness: Strictness, limits: &Limits<'_>) -> Result<Sought, Error> {
    // Rules were given up: nothing is proved, unless it is the clock that made it late.
    let found = |own: Pushed| {
        let proved = own.plan.lateness == unavoidable(&own.rest.problem);
        Ok(Sought::Found(Box::new(own.found(proved))))
    };
    let (pushed, given) = push(today, &today.old, strictness);
    if let Some(own) = pushed.as_ref().filter(|own| own.plan.lateness == unavoidable(&own.rest.problem)) {
        return found(own.clone());
    }
    let rest = match &pushed {
        Some(pushed) => pushed.rest.clone(),
        None => match Rest::new(today, strictness, &given) {
            Some(rest) if rest.problem.faults().is_empty() => rest,
            _ => return Ok(Sought::Nothing),
        },
    };
    let start = pushed.as_ref().map(|own| &own.plan);
    let searched = match solve(&rest.problem, &Limits { start, ..*limits })? {
        Outcome::Planned(planned) => planned.plan,
        Outcome::Impossible(_) => return Ok(Sought::Nothing),
        Outcome::Undecided(_) => return Ok(Sought::Undecided),
    };
    if let Some(own) = pushed.filter(|own| own.plan.lateness <= searched.lateness) {
        return found(own);
    }
    if let Some(own) = transplant(today, &rest, &searched, strictness) {
        return found(own);
    }
    let plan = pull(today, &rest, searched, strictness);
    let whole = rest.whole(today, &plan);
    found(Pushed { rest, plan, whole })
}

/// By how much the last plan was late, as things stand. That guests come early is no lateness that anybody was told of, as long
/// as the plan is from before.
fn told(today: &Today<'_>) -> i64 {
    let late = |course: &Course| {
        let served = *today.old.served.get(&course.id)?;
        let sooner = (-today.day.put_off.get(&course.id).copied().unwrap_or(0)).max(0);
        let wanted = if served >= course.serve + sooner { course.serve + sooner } else { course.serve };
        Some(course.weight * (served - wanted).max(0))
    };
    today.problem.courses.iter().filter_map(late).sum()
}

/// Lateness that the clock alone has made, and the guests.
fn unavoidable(rest: &Problem) -> i64 {
    rest.courses.iter().map(|course| course.weight * (rest.opening - course.serve).max(0)).sum()
}

/// The menu of today, of the steps that are done or planned.
fn sheet(today: &Today<'_>, whole: &Plan) -> Problem {
    let mut sheet = today.sheet.clone();
    keep_planned(&mut sheet, whole);
    sheet
}

fn keep_planned(problem: &mut Problem, plan: &Plan) {
    let known = |step: &str| plan.steps.contains_key(step);
    problem.steps.retain(|step| known(&step.id));
    problem.links.retain(|link| known(&link.from) && known(&link.to));
    for course in &mut problem.courses {
        course.sinks.retain(|sink| known(&sink.step));
    }
    drop_empty_courses(problem);
}

/// A course of which no dish is left goes out never, and nobody waits for it.
fn drop_empty_courses(problem: &mut Problem) {
    problem.courses.retain(|course| !course.sinks.is_empty());
    let courses: Vec<String> = problem.courses.iter().map(|course| course.id.clone()).collect();
    for course in &mut problem.courses {
        course.after = course.after.take().filter(|after| courses.contains(&after.course));
    }
}

/// What of the menu no longer holds.
fn broken(problem: &Problem, today: &Today<'_>, whole: &Plan) -> Vec<Violation> {
    let mut menu = problem.clone();
    today::pass_over(&mut menu);
    menu.steps.iter_mut().flat_map(|step| &mut step.modes).for_each(today::in_passing);
    keep_planned(&mut menu, whole);
    for course in &mut menu.courses {
        course.serve = today::wanted(course, today.day);
    }
    let mut plan = whole.clone();
    plan.served.retain(|id, _| menu.courses.iter().any(|course| course.id == *id));
    let said = |violation: &Violation| {
        !matches!(
            violation,
            Violation::Stated { .. }
                | Violation::BoundAboveValue { .. }
                | Violation::NotProved { .. }
                | Violation::Refused { .. }
        )
    };
    plan.steps.values_mut().for_each(|own| own.touches.clear());
    let mut broken = check(&menu, &plan).err().unwrap_or_default();
    broken.retain(|own| said(own) && !is_of_the_clock(today, own));
    broken
}

/// Minutes that something took or still needs are no rule that anybody broke; nor is what is over.
fn is_of_the_clock(today: &Today<'_>, broken: &Violation) -> bool {
    match broken {
        Violation::Duration { step, .. } => {
            let step = today.problem.steps.iter().find(|own| own.id == *step);
            step.is_none_or(|step| !step.modes.iter().any(|mode| price::may_last(step, mode)))
        }
        Violation::Hands { minute, .. } => *minute < today.now(),
        _ => false,
    }
}

//! A new plan for the rest of the day.
//!
//! What is done is a fact, even where it broke a rule; what runs goes on; the rest is planned again. First comes lateness;
//! then the plan changes as little as it can what the cooks already know: first as few steps as possible go to another
//! place, then as few minutes as possible are moved; then food waits as little as it can.
//!
//! With the ways and the order of the plan that was handed out, the least change is worked out exactly. Only where that
//! makes a course late, or cannot be, is there a search; whatever it moves needlessly is then moved back. Every plan of the
//! rest passes the checker as a problem of its own.

mod changes;
mod rescue;
mod rest;
mod shift;
mod today;

use std::collections::BTreeSet;

use rangewright_models::check::{Violation, check, form};
use rangewright_models::day::{Day, Stage};
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::{Crew, Schedule, schedule_with};
use serde::{Deserialize, Serialize};

use crate::order::{Order, Touches, end, start};
use crate::{Error, Limits, Outcome, solve};

pub use changes::{Moved, Served};
pub use rescue::{Rescue, Way};
use rest::{Rest, Strictness};
use shift::{Frame, Given};
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
    /// When the courses that have not been served are served now.
    pub servings: Vec<Served>,
    /// What changed for the cooks, in order of time.
    pub moved: Vec<Moved>,
    /// The rules of the menu that the day breaks, by what has happened or in what is still to come.
    pub broken: Vec<Violation>,
    /// If a course is late: what could be done about it, what keeps the menu whole first, then the most helpful.
    pub rescues: Vec<Rescue>,
}

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
        Sought::Found(found) => *found,
        Sought::Undecided => return Ok(Replanned::Undecided),
        Sought::Nothing => return Ok(Replanned::Hopeless),
    };
    let sheet = sheet(&today, &found.whole);
    let schedule = schedule_with(&sheet, &found.whole, &today.crew);
    let mut replan = Replan {
        now: day.now,
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
    if replan.servings.iter().any(|served| served.late() > 0) {
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
    let mut sought = Sought::Nothing;
    for strictness in Strictness::ALL {
        sought = find_within(today, strictness, limits)?;
        if matches!(sought, Sought::Found(_)) {
            break;
        }
    }
    Ok(sought)
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
    let found = |own: Pushed, proved: bool| {
        let Pushed { rest, plan, whole } = own;
        Ok(Sought::Found(Box::new(Found { rest, plan, whole, proved })))
    };
    let (pushed, given) = push(today, &today.old, strictness);
    if let Some(own) = pushed.as_ref().filter(|own| own.plan.lateness == unavoidable(&own.rest.problem)) {
        return found(own.clone(), true);
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
    let bound = searched.bounds[0];
    if let Some(own) = pushed.filter(|own| own.plan.lateness <= searched.lateness) {
        let proved = bound == own.plan.lateness;
        return found(own, proved);
    }
    let proved = bound == searched.lateness;
    if let Some(own) = transplant(today, &rest, &searched, strictness) {
        return found(own, proved);
    }
    let plan = pull(today, &rest, searched, strictness);
    let whole = rest.whole(today, &plan);
    found(Pushed { rest, plan, whole }, proved)
}

/// Lateness that the clock alone has made, and the guests.
fn unavoidable(rest: &Problem) -> i64 {
    rest.courses.iter().map(|course| course.weight * (rest.opening - course.serve).max(0)).sum()
}

/// A plan pushed on by what has happened, in the rest that it keeps to.
#[derive(Clone)]
struct Pushed {
    rest: Rest,
    plan: Plan,
    whole: Plan,
}

/// A plan pushed on by what has happened, if the checker accepts that: with each cook's work in its order, or, if that is
/// less late or moves less, with work taken as it comes. And the limits that what has happened breaks in any order.
fn push(today: &Today<'_>, plan: &Plan, strictness: Strictness) -> (Option<Pushed>, BTreeSet<Given>) {
    let mut given = BTreeSet::new();
    let pushed = push_giving(today, plan, strictness, &mut given);
    (pushed, given)
}

fn push_giving(today: &Today<'_>, plan: &Plan, strictness: Strictness, given: &mut BTreeSet<Given>) -> Option<Pushed> {
    let order = Order::new(&today.problem, plan, &today.crew, &today.old_day, Touches::Count)?;
    let frame = Frame::of(today, &order, plan)?;
    let overtime = strictness >= Strictness::Late;
    let attempt = |order: &Order<'_>| -> Option<Pushed> {
        let mut given = BTreeSet::new();
        let loose = (strictness > Strictness::Menu).then_some(&mut given);
        let at = shift::earliest(order, &frame, overtime, loose)?;
        let rest = Rest::new(today, strictness, &given)?;
        let whole = shift::timed(order, plan, &at);
        let plan = rest.plan(today, &whole)?;
        check(&rest.problem, &plan).ok()?;
        let whole = rest.whole(today, &plan);
        Some(Pushed { rest, plan, whole })
    };
    let in_order = attempt(&order);
    if in_order.as_ref().is_some_and(|own| changes::size(today, &own.whole) == [0, 0, 0]) {
        return in_order;
    }
    let mut as_it_comes = order;
    let mut free = as_it_comes.clone();
    free.drop_hands();
    let loose = (strictness > Strictness::Menu).then_some(given);
    let at = shift::earliest(&free, &frame, overtime, loose);
    let other = at.and_then(|at| {
        as_it_comes.take_hands_as_they_come(&at);
        attempt(&as_it_comes)
    });
    let worth = |own: &Pushed| (own.plan.lateness, changes::size(today, &own.whole));
    [in_order, other].into_iter().flatten().min_by_key(worth)
}

/// The ways that a search found, in the plan that was handed out: it then moves less than the search did. Steps that need
/// not go elsewhere after all stay where the cooks know them to be.
fn transplant(today: &Today<'_>, rest: &Rest, searched: &Plan, strictness: Strictness) -> Option<Pushed> {
    let whole = rest.whole(today, searched);
    let mut elsewhere = changes::elsewhere(today, &whole);
    let with = |elsewhere: &[(String, usize)]| {
        let mut plan = today.old.clone();
        for (step, mode) in elsewhere {
            plan.steps.get_mut(step)?.mode = *mode;
        }
        push(today, &plan, strictness).0.filter(|own| own.plan.lateness <= searched.lateness)
    };
    let mut best = with(&elsewhere)?;
    for (step, _) in elsewhere.clone() {
        let fewer: Vec<(String, usize)> = elsewhere.iter().filter(|(own, _)| *own != step).cloned().collect();
        if let Some(better) = with(&fewer) {
            (best, elsewhere) = (better, fewer);
        }
    }
    Some(best)
}

/// Minutes that the search moved needlessly are moved back, first what it put later, then what it put earlier.
fn pull(today: &Today<'_>, rest: &Rest, plan: Plan, strictness: Strictness) -> Plan {
    pulled(today, rest, &plan, strictness).unwrap_or(plan)
}

fn pulled(today: &Today<'_>, rest: &Rest, plan: &Plan, strictness: Strictness) -> Option<Plan> {
    let whole = rest.whole(today, plan);
    let mut problem = today.problem.clone();
    problem.steps.retain(|step| whole.steps.contains_key(&step.id));
    let kept = Today { problem, ..today.clone() };
    if kept.problem.steps.len() != today.problem.steps.len() {
        return None;
    }
    let day = schedule_with(&kept.problem, &whole, &today.crew);
    let order = Order::new(&kept.problem, &whole, &today.crew, &day, Touches::Count)?;
    let mut nearest = whole.clone();
    for (id, own) in &mut nearest.steps {
        if let Some(old) = today.old.steps.get(id) {
            own.start = own.start.min(old.start);
            own.end = own.end.min(old.end);
        }
    }
    let frame = Frame::of(&kept, &order, &nearest)?;
    let mut given = BTreeSet::new();
    let loose = (strictness > Strictness::Menu).then_some(&mut given);
    let at = shift::earliest(&order, &frame, strictness >= Strictness::Late, loose)?;
    let mut most = at.clone();
    for (index, step) in kept.problem.steps.iter().enumerate() {
        let Some(old) = today.old.steps.get(&step.id) else { continue };
        match kept.stages[index] {
            Stage::Waiting => {
                most[start(index)] = most[start(index)].max(old.start);
                most[end(index)] = most[end(index)].max(old.end);
            }
            // What keeps in the refrigerator stays there until its planned minute.
            Stage::Running { until: None, .. } => most[end(index)] = most[end(index)].max(old.end),
            Stage::Running { .. } | Stage::Done { .. } => {}
        }
    }
    let late = shift::latest(&order, &at, &most);
    [late, at].into_iter().find_map(|at| {
        let timed = rest.plan(today, &shift::timed(&order, &whole, &at))?;
        let better = timed.lateness <= plan.lateness && check(&rest.problem, &timed).is_ok();
        better.then_some(timed)
    })
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
    keep_planned(&mut menu, whole);
    for course in &mut menu.courses {
        course.serve += today.day.put_off.get(&course.id).copied().unwrap_or(0);
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
    let mut broken = check(&menu, &plan).err().unwrap_or_default();
    broken.retain(said);
    broken
}

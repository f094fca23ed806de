//! A bare problem goes in, a checked answer comes out.

use rangewright_models::check::check;
use rangewright_models::plan::Plan;
use rangewright_models::problem::Problem;

use crate::assignment::{Assignment, Cost};
use crate::board::Board;
use crate::instance::Instance;
use crate::learn::Learner;
use crate::outcome::{Conflict, Planned, Progress, Reason};
use crate::tidy::tidy;
use crate::unfold::Unfolded;
use crate::{Error, Limits, Outcome};

/// Plans a problem: every step gets a mode and minutes, with the least lateness, then the least waiting of food, then the
/// fewest hot minutes.
///
/// The answer is honest in each case: a plan with what is proved of it, a proof that there is none, or, if a limit came
/// first, how far the search got. Every plan has passed [`check`].
///
/// # Errors
/// [`Error::Refused`] names every fault of the problem; [`Error::Start`] and [`Error::Limit`] are about the limits.
/// [`Error::Internal`] is a defect of this library: a plan that the checker does not accept is never handed out.
///
/// ```
/// use rangewright::models::problem::Problem;
/// use rangewright::{Limits, Outcome};
///
/// let problem: Problem = serde_json::from_str(r#"{
///     "name": "toast", "opening": 0, "shifts": [{"start": 0, "end": 60, "hands": 1}], "pools": {}, "places": [],
///     "dishes": [{"id": "toast", "name": "Toast"}],
///     "courses": [{"id": "tea", "serve": 30, "weight": 1, "max_slip": 10, "together": 0, "after": null,
///         "sinks": [{"step": "butter", "wait": {"rate": 1, "soft": null, "rate_after": 1}}]}],
///     "steps": [{"id": "butter", "dish": "toast", "kind": "dress", "earliest": null, "latest": null,
///         "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 5, "max": 5, "hands": 1}]}],
///     "links": []
/// }"#)?;
/// let Outcome::Planned(planned) = rangewright::solve(&problem, &Limits::default())? else { panic!("no plan") };
/// assert_eq!(planned.plan.steps["butter"].start, 25);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn solve(problem: &Problem, limits: &Limits<'_>) -> Result<Outcome, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    limits.verify()?;
    if let Some(start) = limits.start {
        check(problem, start).map_err(Error::Start)?;
    }
    let mut outcome = solve_as(problem, problem, limits)?;
    if let Outcome::Planned(planned) = &mut outcome {
        planned.plan.made_for = Some(problem.fingerprint());
    }
    Ok(outcome)
}

/// As [`solve`], without looking for faults; the plan is judged as one of another problem that demands less.
pub(crate) fn solve_as(problem: &Problem, judge: &Problem, limits: &Limits<'_>) -> Result<Outcome, Error> {
    let unfolded = Unfolded::new(problem);
    let instance = match Instance::until(unfolded.problem(), limits.halt()) {
        Ok(instance) => instance,
        Err(reasons) => {
            let reasons = unfolded.fold_reasons(problem, reasons);
            return Ok(Outcome::Impossible(Conflict { reasons }));
        }
    };
    let mut board = Board::new(&instance, limits);
    if let Some(start) = limits.start {
        board.offer(unfolded.resume(problem, &instance, start));
    }
    crate::portfolio::run(&mut board);
    let Some((_, best)) = board.incumbent() else {
        return Ok(if board.is_surely_refuted() {
            Outcome::Impossible(Conflict { reasons: vec![Reason::Exhausted] })
        } else {
            Outcome::Undecided(Progress { stopped_by: Some(board.end()), ..board.progress() })
        });
    };
    let tidied = tidy(&instance, best.clone(), TIDYING);
    let mut plan = complete(&instance, &[&tidied, best], board.sure_bounds());
    unfolded.fold(problem, &mut plan);
    check(judge, &plan).map_err(Error::Internal)?;
    Ok(Outcome::Planned(Planned { plan, stopped_by: board.end(), work: board.progress().work }))
}

/// Moves looked at in tidying a finished plan: some milliseconds.
const TIDYING: u64 = 60_000;

/// Conflicts after which another plan is tried.
const CONFLICTS: u64 = 20_000;

/// The first of these assignments for which it can be said who does what, as a plan with these bounds. All are equally good.
///
/// The last one is the engines' own: if nobody can be found for that any more, the checker will say so.
pub(crate) fn complete(instance: &Instance<'_>, assignments: &[&Assignment], bounds: Cost) -> Plan {
    let mut found = None;
    if instance.crew.is_some() {
        let mut learner = Learner::new(instance);
        // A tidier plan is worth no more minutes once somebody waits; the last one has to be completed.
        let (own, tidier) = assignments.split_last().map_or((None, assignments), |(own, tidier)| (Some(own), tidier));
        let tidier = tidier.iter().take_while(|_| !instance.halt.said());
        found = tidier.chain(own).find_map(|&own| Some((own, learner.complete(own, instance, CONFLICTS)?)));
    }
    let own = found.as_ref().map_or_else(|| assignments[0], |(own, _)| own);
    let mut plan = own.to_plan(instance, bounds);
    if let Some((own, work)) = &found {
        work.write(instance, own, &mut plan);
    }
    plan
}

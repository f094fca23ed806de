//! A bare problem goes in, a checked answer comes out.

use rangewright_models::check::check;
use rangewright_models::plan::Plan;
use rangewright_models::problem::Problem;

use crate::assignment::{Assignment, Choice};
use crate::board::Board;
use crate::instance::Instance;
use crate::outcome::{Conflict, Planned, Progress, Reason, StopReason};
use crate::tidy::tidy;
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

/// Whether the problem says something that no engine bears yet: whoever searches asks first, so that nothing is claimed of it.
pub(crate) fn is_beyond(problem: &Problem) -> bool {
    let mut touches = problem.steps.iter().flat_map(|step| &step.modes).flat_map(|mode| &mode.touches);
    let waits = problem.links.iter().map(|link| &link.pools);
    let stands = problem.courses.iter().flat_map(|course| &course.sinks).map(|sink| &sink.pools);
    !problem.cooks.is_empty()
        || touches.any(|touch| touch.floats() || touch.passing)
        || waits.chain(stands).any(|pools| !pools.is_empty())
}

/// As [`solve`], without looking for faults; the plan is judged as one of another problem that demands less.
pub(crate) fn solve_as(problem: &Problem, judge: &Problem, limits: &Limits<'_>) -> Result<Outcome, Error> {
    if is_beyond(problem) {
        let nothing = Progress { best: None, bounds: [0; 3], work: 0, stopped_by: Some(StopReason::Beyond) };
        return Ok(Outcome::Undecided(nothing));
    }
    let instance = match Instance::new(problem) {
        Ok(instance) => instance,
        Err(reasons) => return Ok(Outcome::Impossible(Conflict { reasons })),
    };
    let mut board = Board::new(&instance, limits);
    if let Some(start) = limits.start {
        board.offer(resume(&instance, start));
    }
    crate::portfolio::run(&mut board);
    conclude(&board, judge)
}

/// Moves looked at in tidying a finished plan: some milliseconds.
const TIDYING: u64 = 60_000;

/// A checked plan as an assignment.
pub(crate) fn resume(instance: &Instance<'_>, plan: &Plan) -> Assignment {
    let steps = instance.problem.steps.iter().zip(&instance.steps).map(|(named, step)| {
        let planned = &plan.steps[&named.id];
        // A checked plan has only legal modes.
        let mode = step.modes.iter().position(|mode| mode.source == planned.mode).unwrap_or(0);
        Choice { mode, start: planned.start as i32, end: planned.end as i32 }
    });
    let mut assignment = Assignment { steps: steps.collect(), served: Vec::new() };
    assignment.serve_soonest(instance);
    assignment
}

/// Turns what is on the board into an answer, and lets no plan out that the checker does not accept.
fn conclude(board: &Board<'_, '_, '_>, judge: &Problem) -> Result<Outcome, Error> {
    let Some((_, best)) = board.incumbent() else {
        return Ok(if board.is_surely_refuted() {
            Outcome::Impossible(Conflict { reasons: vec![Reason::Exhausted] })
        } else {
            Outcome::Undecided(Progress { stopped_by: Some(board.end()), ..board.progress() })
        });
    };
    let tidied = tidy(board.instance, best.clone(), TIDYING);
    let plan = tidied.to_plan(board.instance, board.sure_bounds());
    check(judge, &plan).map_err(Error::Internal)?;
    Ok(Outcome::Planned(Planned { plan, stopped_by: board.end(), work: board.progress().work }))
}

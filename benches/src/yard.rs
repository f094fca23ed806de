//! One instance against the clock: solved, checked, and put down as a line.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Mutex;
use std::time::{Duration, Instant};

use rangewright::models::check;
use rangewright::models::plan::{Plan, Status};
use rangewright::models::problem::Problem;
use rangewright::{Error, Limits, Outcome, Progress, StopReason};
use serde::{Deserialize, Serialize};

use crate::instances::{Candidate, Content, Kind};
use crate::memory;

/// How long each instance may take.
#[derive(Clone, Copy, Debug)]
pub struct Allowance {
    /// Wall time for the whole instance, reading included.
    pub time: Option<Duration>,
    /// Units of work of the search.
    pub work: Option<u64>,
    /// Threads of the search.
    pub threads: usize,
}

/// A line of results. A field without a value is empty.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Row {
    /// The path of the instance below its folder, without the ending.
    pub name: String,
    /// What kind of instance.
    pub kind: Kind,
    /// What came out.
    pub status: Verdict,
    /// Value of the plan.
    pub lateness: Option<i64>,
    /// Proved lower bound.
    pub lateness_bound: Option<i64>,
    /// Value of the plan.
    pub waiting: Option<i64>,
    /// Proved lower bound at the plan's lateness.
    pub waiting_bound: Option<i64>,
    /// Value of the plan.
    pub hot: Option<i64>,
    /// Proved lower bound at the plan's lateness and waiting.
    pub hot_bound: Option<i64>,
    /// Wall seconds from opening the file to the end of the search, to a tenth of a millisecond.
    pub seconds: String,
    /// Peak of memory in megabytes.
    pub peak_mb: Option<String>,
    /// `proof`, `gap`, `work` or `time`; or, where something is broken, `error` or `panic`.
    pub stopped_by: Option<String>,
}

impl Row {
    /// The names of the fields in their order.
    pub const FIELDS: [&'static str; 12] = [
        "name",
        "kind",
        "status",
        "lateness",
        "lateness_bound",
        "waiting",
        "waiting_bound",
        "hot",
        "hot_bound",
        "seconds",
        "peak_mb",
        "stopped_by",
    ];
}

/// What is known of an instance in the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// A plan, proved best in all three goals.
    Optimal,
    /// A plan.
    Feasible,
    /// A proof that there is none.
    Impossible,
    /// Neither.
    Undecided,
    /// The instance makes no sense.
    Refused,
}

/// What was known at a moment of the search.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Moment {
    /// The instance.
    pub name: String,
    /// Seconds since the file was opened.
    pub seconds: f64,
    /// Value of the best plan so far.
    pub lateness: Option<i64>,
    /// Value of the best plan so far.
    pub waiting: Option<i64>,
    /// Value of the best plan so far.
    pub hot: Option<i64>,
    /// Bound so far.
    pub lateness_bound: i64,
    /// Bound so far, at the lateness so far.
    pub waiting_bound: i64,
    /// Bound so far, at the lateness and waiting so far.
    pub hot_bound: i64,
}

/// All that is left of one run.
#[derive(Clone, Debug)]
pub struct Run {
    /// The line.
    pub row: Row,
    /// The plan, if there is one; the checker has accepted it.
    pub plan: Option<Plan>,
    /// Each improvement of plan or bound, in the order of time; the result is the last.
    pub moments: Vec<Moment>,
    /// What is wrong with the instance, or with us.
    pub complaint: Option<String>,
}

impl Run {
    /// Whether the fault is ours: a plan the checker rejects, an internal error, a panic.
    pub fn is_broken(&self) -> bool {
        matches!(self.row.stopped_by.as_deref(), Some("error" | "panic"))
    }
}

/// Runs one candidate.
///
/// # Errors
/// Why the file is not taken for an instance.
pub fn run(candidate: &Candidate, allowance: Allowance) -> Result<Run, String> {
    let start = Instant::now();
    let measured = memory::reset_peak();
    let problem = match candidate.read() {
        Content::Problem(problem) => problem,
        Content::Unreadable(why) => {
            let row = blank(candidate, Verdict::Refused, start);
            return Ok(Run { row, plan: None, moments: Vec::new(), complaint: Some(why) });
        }
        Content::Foreign(why) => return Err(why),
    };
    let mut run = search(candidate, &problem, allowance, start);
    run.row.peak_mb = if measured { memory::peak_mb().map(|mb| format!("{mb:.1}")) } else { None };
    Ok(run)
}

fn search(candidate: &Candidate, problem: &Problem, allowance: Allowance, start: Instant) -> Run {
    let stop = || allowance.time.is_some_and(|time| start.elapsed() >= time);
    let moments = Mutex::new(Vec::new());
    let progress = |progress: &Progress| {
        // The lock is poisoned only by a panic in the push, which cannot leave a half-made list.
        let mut moments = moments.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        moments.push(moment(&candidate.name, start, progress.best, progress.bounds));
    };
    let limits = Limits {
        work: allowance.work,
        stop: Some(&stop),
        progress: Some(&progress),
        threads: allowance.threads,
        ..Limits::default()
    };
    // One defect must not cost the results of all other instances.
    let answer = catch_unwind(AssertUnwindSafe(|| rangewright::solve(problem, &limits)));
    let mut run =
        Run { row: blank(candidate, Verdict::Undecided, start), plan: None, moments: Vec::new(), complaint: None };
    match answer {
        Ok(Ok(Outcome::Planned(planned))) => run.take_plan(problem, planned.plan, planned.stopped_by),
        Ok(Ok(Outcome::Impossible(conflict))) => {
            run.row.status = Verdict::Impossible;
            run.row.stopped_by = Some("proof".to_owned());
            let reasons: Vec<_> = conflict.reasons.iter().map(ToString::to_string).collect();
            run.complaint = Some(reasons.join("; "));
        }
        Ok(Ok(Outcome::Undecided(progress))) => {
            run.row.lateness_bound = Some(progress.bounds[0]);
            run.row.stopped_by = progress.stopped_by.map(|reason| stopped_by(reason).to_owned());
        }
        Ok(Err(error @ Error::Refused(_))) => {
            run.row.status = Verdict::Refused;
            run.complaint = Some(error.to_string());
        }
        Ok(Err(error)) => run.breaks("error", error.to_string()),
        Err(_) => run.breaks("panic", "the search panicked".to_owned()),
    }
    run.moments = moments.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    if let Some(plan) = &run.plan {
        let best = [plan.lateness, plan.waiting, plan.hot];
        run.moments.push(moment(&candidate.name, start, Some(best), plan.bounds));
    }
    run
}

impl Run {
    fn take_plan(&mut self, problem: &Problem, plan: Plan, reason: StopReason) {
        if let Err(violations) = check::check(problem, &plan) {
            let words: Vec<_> = violations.iter().map(ToString::to_string).collect();
            return self.breaks("error", format!("the checker does not accept the plan: {}", words.join("; ")));
        }
        let row = &mut self.row;
        row.status = match plan.status {
            Status::Optimal => Verdict::Optimal,
            Status::Feasible => Verdict::Feasible,
        };
        (row.lateness, row.waiting, row.hot) = (Some(plan.lateness), Some(plan.waiting), Some(plan.hot));
        [row.lateness_bound, row.waiting_bound, row.hot_bound] = plan.bounds.map(Some);
        row.stopped_by = Some(stopped_by(reason).to_owned());
        self.plan = Some(plan);
    }

    fn breaks(&mut self, how: &str, complaint: String) {
        self.row.stopped_by = Some(how.to_owned());
        self.complaint = Some(complaint);
    }
}

fn blank(candidate: &Candidate, status: Verdict, start: Instant) -> Row {
    Row {
        name: candidate.name.clone(),
        kind: candidate.kind,
        status,
        lateness: None,
        lateness_bound: None,
        waiting: None,
        waiting_bound: None,
        hot: None,
        hot_bound: None,
        seconds: format!("{:.4}", start.elapsed().as_secs_f64()),
        peak_mb: None,
        stopped_by: None,
    }
}

fn moment(name: &str, start: Instant, best: Option<[i64; 3]>, bounds: [i64; 3]) -> Moment {
    Moment {
        name: name.to_owned(),
        seconds: start.elapsed().as_secs_f64(),
        lateness: best.map(|best| best[0]),
        waiting: best.map(|best| best[1]),
        hot: best.map(|best| best[2]),
        lateness_bound: bounds[0],
        waiting_bound: bounds[1],
        hot_bound: bounds[2],
    }
}

fn stopped_by(reason: StopReason) -> &'static str {
    match reason {
        StopReason::Proof => "proof",
        StopReason::Gap => "gap",
        StopReason::Work => "work",
        StopReason::Stop => "time",
        StopReason::Packing => "packing",
        _ => "other",
    }
}

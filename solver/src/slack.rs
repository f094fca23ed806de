//! How much each step of a plan may go wrong before it is noticed at the table.

use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::{Crew, schedule_with};
use serde::{Deserialize, Serialize};

use crate::order::{Order, Tie, Touches, end, start};

/// What one step may lose, with everything else in the planned order and as early as planned.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Slack {
    /// The step.
    pub step: String,
    /// How much later it may start.
    pub start: Leeway,
    /// How much longer it may take.
    pub run: Leeway,
}

impl Slack {
    /// Whether every minute lost here is lost at the table: the step lies on a chain that decides when it is served.
    pub fn decides(&self) -> bool {
        self.start.serving == 0 || self.run.serving == 0
    }
}

/// Minutes that may be lost.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Leeway {
    /// Before any other step has to move, and before any food waits longer than it may.
    pub free: Minute,
    /// Before a serving slips. Other steps may have to start later; none before its time.
    pub serving: Minute,
}

/// The slack of each step, in the problem's order. Elastic steps (rests, holds) give up what they have above their least
/// minutes. Empty if the plan does not name every step.
///
/// ```
/// # use rangewright::models::{plan::Plan, problem::Problem, schedule::Crew};
/// let problem: Problem = serde_json::from_str(r#"{
///     "name": "toast", "opening": 0, "shifts": [{"start": 0, "end": 60, "hands": 1}], "pools": {}, "places": [],
///     "dishes": [{"id": "toast", "name": "Toast"}],
///     "courses": [{"id": "tea", "serve": 30, "weight": 1, "max_slip": 10, "together": 10, "after": null,
///         "sinks": [{"step": "butter", "wait": {"rate": 1, "soft": null, "rate_after": 1}}]}],
///     "steps": [{"id": "butter", "dish": "toast", "kind": "dress", "earliest": null, "latest": null,
///         "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 5, "max": 5, "hands": 1}]}],
///     "links": []
/// }"#)?;
/// let plan: Plan = serde_json::from_str(r#"{"steps": {"butter": {"mode": 0, "start": 22, "end": 27}},
///     "served": {"tea": 30}, "lateness": 0, "waiting": 3, "hot": 0, "bounds": [0, 0, 0], "status": "feasible"}"#)?;
/// let slack = rangewright::slack::slack(&problem, &plan, &Crew::of(&problem));
/// assert_eq!((slack[0].start.serving, slack[0].run.free), (3, 3));
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn slack(problem: &Problem, plan: &Plan, crew: &Crew) -> Vec<Slack> {
    let day = schedule_with(problem, plan, crew);
    let Some(order) = Order::new(problem, plan, crew, &day, Touches::Count) else { return Vec::new() };
    let latest = latest(&order);
    let free = free(&order);
    let of = |event: usize| {
        let serving = (latest[event] - order.planned[event]).max(0);
        Leeway { free: free[event].clamp(0, serving), serving }
    };
    let own = |(index, run): (usize, &crate::order::Run<'_>)| Slack {
        step: run.step.id.clone(),
        start: of(start(index)),
        run: of(end(index)),
    };
    order.runs.iter().enumerate().map(own).collect()
}

/// The latest minute of each event at which no serving slips.
fn latest(order: &Order<'_>) -> Vec<Minute> {
    let mut latest = vec![Minute::MAX / 4; order.planned.len()];
    for course in 0..order.problem.courses.len() {
        let serving = order.serving(course);
        latest[serving] = order.planned[serving];
    }
    for (event, stays) in leaving(order) {
        latest[event] = latest[event].min(order.planned[event] + stays);
    }
    for &event in order.sequence.iter().rev() {
        for arc in order.arcs.iter().filter(|arc| arc.from == event) {
            latest[event] = latest[event].min(latest[arc.to] - arc.least);
        }
    }
    latest
}

/// By how much each event may move before another has to, or before a wait is longer than it may be.
fn free(order: &Order<'_>) -> Vec<Minute> {
    let mut free = vec![Minute::MAX / 4; order.planned.len()];
    let mut limit = |event: usize, minutes: Minute| free[event] = free[event].min(minutes);
    for arc in order.arcs.iter().filter(|arc| arc.tie != Tie::Minutes) {
        limit(arc.from, order.planned[arc.to] - order.planned[arc.from] - arc.least);
    }
    for (event, stays) in leaving(order) {
        limit(event, stays);
    }
    for link in &order.problem.links {
        let (Some(from), Some(to), Some(max)) = (order.index(&link.from), order.index(&link.to), link.max) else {
            continue;
        };
        limit(start(to), max - (order.planned[start(to)] - order.planned[end(from)]));
    }
    for (index, run) in order.runs.iter().enumerate() {
        let gives = run.planned.end - run.planned.start - run.mode.min;
        free[start(index)] = free[start(index)].min(free[end(index)].saturating_add(gives));
    }
    free
}

/// How long each cook stays after the pieces of work that hang on an event.
fn leaving<'a>(order: &'a Order<'_>) -> impl Iterator<Item = (usize, Minute)> + 'a {
    order.pieces.iter().filter_map(|piece| {
        let [begin, finish] = [piece.begin, piece.finish].map(|(event, offset)| order.planned[event] + offset);
        let present = order.present.get(piece.cook)?;
        let [_, leaves] = present.iter().find(|[comes, leaves]| *comes <= begin && finish <= *leaves)?;
        Some((piece.finish.0, leaves - finish))
    })
}

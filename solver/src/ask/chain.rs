//! The chain of steps and waits that fixes when a plan is done.

use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Minute, Mode, Problem};
use serde::{Deserialize, Serialize};

/// One step of the chain.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChainStep {
    /// The step.
    pub step: String,
    /// Its first minute.
    pub start: Minute,
    /// The minute after its last.
    pub end: Minute,
    /// What keeps it from starting sooner.
    pub because: Because,
}

/// What keeps a step from starting sooner.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Because {
    /// It follows this step, with the least gap between them.
    Follows {
        /// The earlier step.
        step: String,
    },
    /// The place is taken by this step, or still changes its temperature after it.
    Place {
        /// The place.
        place: String,
        /// The step before.
        step: String,
    },
    /// The hands are busy with this step.
    Hands {
        /// The step that frees a hand.
        step: String,
    },
    /// Something of which there is only so much is in use by this step.
    Pool {
        /// The pool.
        pool: String,
        /// The step that gives it back.
        step: String,
    },
    /// A shift begins.
    Shift,
    /// The step's own earliest time.
    Earliest,
    /// The kitchen opens, or the first heat is reached.
    Opening,
    /// Nothing: it could start sooner, but gains nothing by it.
    Slack,
}

/// The chain that ends with the latest serving, the first step first.
///
/// Backwards from the sink that is done last: each step is followed by what it waited for. Where several things hold a
/// step back at the same minute, a link counts before a place, a place before hands.
pub fn chain(problem: &Problem, plan: &Plan) -> Vec<ChainStep> {
    let mut chain: Vec<ChainStep> = Vec::new();
    let last_course = problem.courses.iter().max_by_key(|course| plan.served.get(&course.id));
    let sinks = last_course.into_iter().flat_map(|course| &course.sinks);
    let mut at =
        sinks.max_by_key(|sink| plan.steps.get(&sink.step).map(|step| step.end)).map(|sink| sink.step.as_str());
    while let Some(step) = at {
        let Some(planned) = plan.steps.get(step) else { break };
        if chain.iter().any(|earlier| earlier.step == step) {
            break;
        }
        let because = because(problem, plan, step, planned);
        at = match &because {
            Because::Follows { step }
            | Because::Place { step, .. }
            | Because::Hands { step }
            | Because::Pool { step, .. } => problem.steps.iter().find(|other| other.id == *step).map(|s| s.id.as_str()),
            Because::Shift | Because::Earliest | Because::Opening | Because::Slack => None,
        };
        chain.push(ChainStep { step: step.to_owned(), start: planned.start, end: planned.end, because });
    }
    chain.reverse();
    chain
}

fn because(problem: &Problem, plan: &Plan, id: &str, planned: &PlannedStep) -> Because {
    let start = planned.start;
    let follows = problem.links.iter().filter(|link| link.to == id);
    let mut tight = follows.filter(|link| plan.steps.get(&link.from).is_some_and(|from| from.end + link.min == start));
    if let Some(link) = tight.next() {
        return Because::Follows { step: link.from.clone() };
    }
    let Some(step) = problem.steps.iter().find(|step| step.id == id) else { return Because::Slack };
    let mode = &step.modes[planned.mode];
    if start == problem.opening {
        return Because::Opening;
    }
    if step.earliest == Some(start) {
        return Because::Earliest;
    }
    // Whatever ended last before this step started, and shares something scarce with it, held it back.
    let others = || {
        let others = problem.steps.iter().filter(|other| other.id != id);
        others.filter_map(|other| Some((other, plan.steps.get(&other.id)?)))
    };
    if let Some(place) = &mode.place {
        let before = others().filter(|(other, p)| p.end <= start && other.modes[p.mode].place.as_ref() == Some(place));
        let (latest, wait) = match before.max_by_key(|(_, p)| p.end) {
            Some((other, p)) => (Some(other), start - p.end),
            None => (None, start - problem.opening),
        };
        match latest {
            Some(other) if wait == 0 || mode.t.is_some() && mode.t != other.modes[plan.steps[&other.id].mode].t => {
                return Because::Place { place: place.clone(), step: other.id.clone() };
            }
            None if mode.t.is_some() => return Because::Opening,
            _ => {}
        }
    }
    for pool in mode.pools.keys() {
        let users = others().filter(|(other, p)| p.end == start && other.modes[p.mode].pools.contains_key(pool));
        if let Some((other, _)) = users.min_by_key(|(other, _)| &other.id) {
            return Because::Pool { pool: pool.clone(), step: other.id.clone() };
        }
    }
    if problem.shifts.iter().any(|shift| shift.start == start) {
        return Because::Shift;
    }
    let mut frees = others().filter(|(other, p)| frees_hand(&other.modes[p.mode], p, start));
    frees.next().map_or(Because::Slack, |(other, _)| Because::Hands { step: other.id.clone() })
}

/// A piece of work on this step ends at this minute.
fn frees_hand(mode: &Mode, planned: &PlannedStep, minute: Minute) -> bool {
    let whole = mode.hands > 0 && planned.end == minute;
    let load = mode.load > 0 && planned.start + mode.load == minute;
    let unload = mode.unload > 0 && planned.end == minute;
    whole || load || unload || mode.touches.iter().any(|&[offset, length]| planned.start + offset + length == minute)
}

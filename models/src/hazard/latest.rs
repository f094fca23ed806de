//! The evening in which everything is done as late as it can be, whatever room and hands there are: the least that food must stand.

use std::collections::BTreeMap;

use crate::labels::{Labels, Warmth};
use crate::menu::Kind;
use crate::plan::{Plan, PlannedStep, Status};
use crate::problem::{Minute, Problem};

/// Rounds after which bounds that still fall contradict each other.
const ROUNDS: usize = 200;
/// No bound yet.
const OPEN: Minute = Minute::MAX / 4;

/// A plan that need not be possible. Each step has the way with the fewest broken limits, and of these the shortest.
pub(super) fn plan(problem: &Problem, labels: &Labels) -> Plan {
    let modes: Vec<usize> = problem.steps.iter().map(|step| mode(&step.id, step, labels)).collect();
    let times = times(problem, &modes, true).or_else(|| times(problem, &modes, false)).unwrap_or_default();
    let mut steps = BTreeMap::new();
    for ((step, &mode), [start, end]) in problem.steps.iter().zip(&modes).zip(times) {
        steps.insert(step.id.clone(), PlannedStep::new(mode, start, end));
    }
    soon_into_the_cold(problem, labels, &mut steps);
    let served = problem.courses.iter().map(|course| (course.id.clone(), course.serve)).collect();
    let (hands, made_for) = (Vec::new(), None);
    Plan { steps, hands, served, lateness: 0, waiting: 0, hot: 0, bounds: [0; 3], status: Status::Feasible, made_for }
}

fn mode(id: &str, step: &crate::problem::Step, labels: &Labels) -> usize {
    let broken = |mode: usize| {
        let words = labels.steps.get(id).and_then(|label| label.modes.get(mode));
        words.map_or(0, |words| {
            words.cautions.iter().filter(|own| own.weight == crate::cook::safety::Weight::Breach).count()
        })
    };
    let best = step.modes.iter().enumerate().min_by_key(|(index, mode)| (broken(*index), mode.min, *index));
    best.map_or(0, |(index, _)| index)
}

/// The greatest starts and ends that keep every bound; none if there are none. `held`: links that may not stretch do not.
fn times(problem: &Problem, modes: &[usize], held: bool) -> Option<Vec<[Minute; 2]>> {
    let index: BTreeMap<&str, usize> =
        problem.steps.iter().enumerate().map(|(at, own)| (own.id.as_str(), at)).collect();
    let length = |at: usize| problem.steps[at].modes.get(modes[at]).map_or([0, 0], |mode| [mode.min, mode.max]);
    let mut starts = vec![OPEN; problem.steps.len()];
    let mut ends: Vec<Minute> = problem.steps.iter().map(|step| step.latest.unwrap_or(OPEN)).collect();
    for course in &problem.courses {
        for sink in &course.sinks {
            let at = *index.get(sink.step.as_str())?;
            ends[at] = ends[at].min(course.serve);
        }
    }
    for _ in 0..ROUNDS {
        let before = (starts.clone(), ends.clone());
        for at in 0..starts.len() {
            let [min, max] = length(at);
            starts[at] = starts[at].min(ends[at] - min);
            ends[at] = ends[at].min(starts[at].saturating_add(max));
        }
        for link in &problem.links {
            let (Some(&from), Some(&to)) = (index.get(link.from.as_str()), index.get(link.to.as_str())) else {
                continue;
            };
            ends[from] = ends[from].min(starts[to] - link.min);
            if let Some(max) = link.max.filter(|_| held) {
                starts[to] = starts[to].min(ends[from].saturating_add(max));
            }
        }
        if before == (starts.clone(), ends.clone()) {
            // A sink that is held back by a step before it is then ready too early: let it wait.
            return Some(starts.into_iter().zip(ends).map(|(start, end)| [start, end]).collect());
        }
    }
    None
}

/// What is chilled goes into the cold as soon as it is there.
fn soon_into_the_cold(problem: &Problem, labels: &Labels, steps: &mut BTreeMap<String, PlannedStep>) {
    for step in &problem.steps {
        let label = labels.steps.get(&step.id);
        let cold =
            label.is_some_and(|own| matches!(own.kind, Kind::Chill | Kind::Hold) || own.facts.warmth == Warmth::Holds);
        if !cold {
            continue;
        }
        let before = problem.links.iter().filter(|link| link.to == step.id);
        let soonest = before.filter_map(|link| Some(steps.get(&link.from)?.end + link.min.max(0))).max();
        let Some(own) = steps.get_mut(&step.id) else { continue };
        let max = step.modes.get(own.mode).map_or(0, |mode| mode.max);
        if let Some(soonest) = soonest {
            own.start = own.start.min(soonest.max(own.end - max));
        }
    }
}

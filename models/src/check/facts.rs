//! What a plan says, with every id looked up.

use std::collections::BTreeMap;

use crate::plan::{Hands, Plan};
use crate::problem::{Cavity, Minute, Mode, Place, Problem, Step, Touch, legal};

use super::served;
use super::violation::Violation;

/// A step as it is planned.
#[derive(Clone, Copy)]
pub(super) struct Run<'a> {
    pub(super) step: &'a Step,
    pub(super) mode: &'a Mode,
    /// Index of the mode's place.
    pub(super) place: Option<usize>,
    pub(super) start: Minute,
    pub(super) end: Minute,
    /// When its touches are begun, as the plan states them; each at its `at` if it does not.
    stated: &'a [Minute],
}

impl<'a> Run<'a> {
    pub(super) fn id(&self) -> String {
        self.step.id.clone()
    }

    /// The touches that take any time: index, what is asked, and the minute at which each is begun.
    pub(super) fn touches(&self) -> impl Iterator<Item = (usize, &'a Touch, Minute)> + use<'a> {
        let (start, stated) = (self.start, self.stated);
        let begun =
            move |index: usize, touch: &Touch| start.saturating_add(stated.get(index).copied().unwrap_or(touch.at));
        let touches = self.mode.touches.iter().enumerate().filter(|(_, touch)| touch.minutes > 0);
        touches.map(move |(index, touch)| (index, touch, begun(index, touch)))
    }

    /// How many touches the plan states, if it states any.
    pub(super) fn stated(&self) -> &'a [Minute] {
        self.stated
    }
}

/// A complete plan of a problem that makes sense. All minutes are legal, and nothing ends before it starts.
pub(super) struct Facts<'a> {
    pub(super) problem: &'a Problem,
    /// In the order of the problem's steps.
    pub(super) runs: Vec<Run<'a>>,
    /// Index of each step by its id.
    pub(super) steps: BTreeMap<&'a str, usize>,
    /// When each course is served, in the order of the problem's courses.
    pub(super) served: Vec<Minute>,
    /// Who does what, as the plan says.
    pub(super) hands: &'a [Hands],
}

impl<'a> Facts<'a> {
    pub(super) fn new(problem: &'a Problem, plan: &'a Plan) -> Result<Self, Vec<Violation>> {
        let faults = problem.faults();
        if !faults.is_empty() {
            return Err(faults.into_iter().map(|fault| Violation::Refused { fault }).collect());
        }
        let places = problem.places.iter().enumerate().map(|(i, place)| (place.id(), i)).collect();
        let steps: BTreeMap<&str, usize> =
            problem.steps.iter().enumerate().map(|(i, step)| (step.id.as_str(), i)).collect();
        let mut violations = Vec::new();
        for step in plan.steps.keys().filter(|step| !steps.contains_key(step.as_str())) {
            violations.push(Violation::UnknownStep { step: step.clone() });
        }
        let mut runs = Vec::new();
        for step in &problem.steps {
            match run(step, plan, &places) {
                Ok(run) => runs.push(run),
                Err(violation) => violations.push(violation),
            }
        }
        for (course, &minute) in &plan.served {
            if !problem.courses.iter().any(|known| known.id == *course) {
                violations.push(Violation::UnknownCourse { course: course.clone() });
            } else if !legal::MINUTES.contains(&minute) {
                violations.push(Violation::AbsurdMinute { id: course.clone(), minute });
            }
        }
        if !violations.is_empty() {
            return Err(violations);
        }
        let served = served::minutes(problem, &steps, &runs, &plan.served);
        Ok(Facts { problem, runs, steps, served, hands: &plan.hands })
    }

    /// A step that a link or a sink names.
    pub(super) fn run(&self, id: &str) -> &Run<'a> {
        &self.runs[self.steps[id]]
    }

    /// What runs in a place.
    pub(super) fn runs_in(&self, place: usize) -> Vec<Run<'a>> {
        self.runs.iter().filter(|run| run.place == Some(place)).copied().collect()
    }

    /// The cavities, each with what runs in it in order of time.
    pub(super) fn cavities(&self) -> impl Iterator<Item = (&'a Cavity, Vec<Run<'a>>)> + '_ {
        self.problem.places.iter().enumerate().filter_map(|(i, place)| match place {
            Place::Cavity(cavity) => {
                let mut runs = self.runs_in(i);
                runs.sort_by_key(|run| (run.start, run.end));
                Some((cavity, runs))
            }
            Place::Hob(_) | Place::Top(_) => None,
        })
    }
}

fn run<'a>(step: &'a Step, plan: &'a Plan, places: &BTreeMap<&str, usize>) -> Result<Run<'a>, Violation> {
    let id = || step.id.clone();
    let planned = plan.steps.get(&step.id).ok_or_else(|| Violation::MissingStep { step: id() })?;
    let Some(mode) = step.modes.get(planned.mode) else {
        return Err(Violation::NoSuchMode { step: id(), mode: planned.mode, modes: step.modes.len() });
    };
    if let Some(minute) = [planned.start, planned.end].into_iter().find(|minute| !legal::MINUTES.contains(minute)) {
        return Err(Violation::AbsurdMinute { id: id(), minute });
    }
    if planned.end < planned.start {
        return Err(Violation::EndBeforeStart { step: id(), start: planned.start, end: planned.end });
    }
    let place = mode.place.as_ref().and_then(|place| places.get(place.as_str()).copied());
    Ok(Run { step, mode, place, start: planned.start, end: planned.end, stated: &planned.touches })
}

//! The steps of a plan with the mode chosen for each.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::Plan;
use crate::problem::{Minute, Mode, Problem, Step, Touch};

/// Longer than any legal plan; what lies beyond is left out so that nonsense costs no time.
const HORIZON: Minute = 100_000;

/// A step as it is planned.
#[derive(Clone, Copy, Debug)]
pub(super) struct Run<'a> {
    pub(super) step: &'a Step,
    pub(super) mode: &'a Mode,
    pub(super) start: Minute,
    pub(super) end: Minute,
    /// When its touches are begun, if the plan says so.
    begun: &'a [Minute],
}

impl<'a> Run<'a> {
    pub(super) fn id(&self) -> &str {
        &self.step.id
    }

    /// The touches that take any time: index, what is asked, and the minute at which each is begun.
    pub(super) fn touches(&self) -> impl Iterator<Item = (usize, &'a Touch, Minute)> + use<'a> {
        let (start, begun) = (self.start, self.begun);
        let touches = self.mode.touches.iter().enumerate().filter(|(_, touch)| touch.minutes > 0);
        touches.map(move |(index, touch)| {
            (index, touch, start.saturating_add(begun.get(index).copied().unwrap_or(touch.at)))
        })
    }
}

/// All runs of a plan in order of start, and which of them stay in from which.
pub(super) struct Runs<'a> {
    pub(super) all: Vec<Run<'a>>,
    /// Later step of a stay link -> the earlier one.
    pub(super) stays: BTreeMap<&'a str, &'a str>,
    by_id: BTreeMap<&'a str, usize>,
}

impl<'a> Runs<'a> {
    pub(super) fn new(problem: &'a Problem, plan: &'a Plan) -> Self {
        let mut all: Vec<Run<'a>> = Vec::new();
        for step in &problem.steps {
            let Some(planned) = plan.steps.get(&step.id) else { continue };
            let Some(mode) = step.modes.get(planned.mode) else { continue };
            let (start, end) = (planned.start, planned.end);
            if start <= end && (-HORIZON..=HORIZON).contains(&start) && end <= HORIZON {
                all.push(Run { step, mode, start, end, begun: &planned.touches });
            }
        }
        all.sort_by(|a, b| (a.start, a.end, a.id()).cmp(&(b.start, b.end, b.id())));
        let stays = problem.links.iter().filter(|link| link.stay).map(|l| (l.to.as_str(), l.from.as_str())).collect();
        let by_id = all.iter().enumerate().map(|(index, run)| (run.step.id.as_str(), index)).collect();
        Runs { all, stays, by_id }
    }

    /// The run of a step.
    pub(super) fn of(&self, step: &str) -> Option<&Run<'a>> {
        self.by_id.get(step).map(|&index| &self.all[index])
    }

    /// The runs at one place, in order of start.
    pub(super) fn at(&self, place: &str) -> Vec<Run<'a>> {
        self.all.iter().filter(|run| run.mode.place.as_deref() == Some(place)).copied().collect()
    }

    /// Steps after which the pan stays in.
    pub(super) fn staying(&self) -> BTreeSet<&'a str> {
        self.stays.values().copied().collect()
    }
}

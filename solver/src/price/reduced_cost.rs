//! What every start and every end of a step costs at least beyond the cheapest timetable, under fixed prices.

use super::slide::Costs;
use super::{NEVER, SCALE};
use crate::instance::{Instance, Span, Time};

/// Windows of a start and an end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Frame {
    pub(crate) start: Span,
    pub(crate) end: Span,
}

/// Least costs by minute beyond those of the cheapest timetable of the component, scaled; [`NEVER`] where there is none.
#[derive(Clone, Debug, Default)]
pub(crate) struct ReducedCost {
    pub(crate) start: Costs,
    pub(crate) end: Costs,
}

/// Prices speak: a plan with one vector of servings waits at least `least`, and for each component the reduced_cost of any one of its
/// starts and ends more.
#[derive(Clone, Debug)]
pub(crate) struct ReducedCosts {
    /// Waiting of all plans at least, scaled.
    pub(crate) least: i64,
    /// The steps of each component.
    pub(crate) components: Vec<Vec<usize>>,
    /// By step and mode; none for a mode that no timetable uses.
    pub(crate) of: Vec<Vec<Option<ReducedCost>>>,
}

impl ReducedCosts {
    /// The greatest sum of reduced_costs of a plan that waits no longer than this.
    pub(crate) fn spare(&self, waiting: i64) -> i64 {
        waiting.saturating_mul(SCALE) - self.least
    }

    /// Waiting, in whole points, of a plan with this sum of reduced_costs at least.
    pub(crate) fn waiting(&self, reduced_cost: i64) -> i64 {
        -(-self.least.saturating_add(reduced_cost)).div_euclid(SCALE)
    }

    /// The least sum of reduced_costs at which [`ReducedCosts::waiting`] reaches so many points.
    pub(crate) fn to_reach(&self, waiting: i64) -> i64 {
        (waiting - 1).saturating_mul(SCALE) - self.least + 1
    }

    /// For each step and mode the windows that plans with at most this waiting can have; none for a mode that none uses.
    fn frames(&self, waiting: i64) -> Vec<Vec<Option<Frame>>> {
        let spare = self.spare(waiting);
        let span = |costs: &Costs| {
            let mut open = costs
                .iter()
                .filter(|&(_, reduced_cost)| reduced_cost < NEVER && reduced_cost <= spare)
                .map(|(minute, _)| minute);
            let lo: Time = open.next()?;
            Some(Span { lo, hi: open.last().unwrap_or(lo) })
        };
        let frame = |reduced_cost: &Option<ReducedCost>| {
            let reduced_cost = reduced_cost.as_ref()?;
            Some(Frame { start: span(&reduced_cost.start)?, end: span(&reduced_cost.end)? })
        };
        self.of.iter().map(|modes| modes.iter().map(frame).collect()).collect()
    }
}

/// The windows that plans with at most this waiting, and the servings of any of these, can have.
pub(crate) fn frames(instance: &Instance<'_>, all: &[ReducedCosts], waiting: i64) -> Vec<Vec<Option<Frame>>> {
    let mut hull: Vec<Vec<Option<Frame>>> = instance.steps.iter().map(|step| vec![None; step.modes.len()]).collect();
    for reduced_costs in all {
        for (hull, frame) in hull.iter_mut().flatten().zip(reduced_costs.frames(waiting).into_iter().flatten()) {
            *hull = match (*hull, frame) {
                (Some(a), Some(b)) => Some(Frame { start: wider(a.start, b.start), end: wider(a.end, b.end) }),
                (known, other) => known.or(other),
            };
        }
    }
    hull
}

fn wider(a: Span, b: Span) -> Span {
    Span { lo: a.lo.min(b.lo), hi: a.hi.max(b.hi) }
}

//! One way to share, with what it costs.

use std::collections::BTreeMap;

use rangewright_models::pack::{Fit, Packer, Spot};
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Cavity, Minute, Mode, Problem, Step};
use serde::{Deserialize, Serialize};

use super::Manner;

/// One way to share, with what it costs and a plan that shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Way {
    /// How they share.
    pub manner: Manner,
    /// The dishes come to the table this many minutes later than the slowest of them would alone.
    pub later: Minute,
    /// What waits, beyond what waits when each is made alone; a less liked temperature counts as waiting.
    pub extra_waiting: i64,
    /// Each stay in the cavity, in order of time.
    pub visits: Vec<Visit>,
    /// Where each pan stands while most of them are together in the cavity, by step; empty when they never are.
    pub spots: BTreeMap<String, Spot>,
    /// How many racks that takes; 0 when they are never together.
    pub racks: usize,
    /// The air temperatures that suit all of them while they are together; absent when they never are.
    pub air: Option<[i64; 2]>,
    /// It is proved that no plan of this manner is served sooner, and none as soon waits less.
    pub proved: bool,
    /// The plan, of [`sharing_problem`](super::sharing_problem).
    pub plan: Plan,
}

/// A stay of a dish in the cavity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Visit {
    /// The dish.
    pub dish: String,
    /// The step.
    pub step: String,
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
    /// The air temperatures of the mode chosen.
    pub air: [i64; 2],
    /// The minutes the step takes when its dish is made alone.
    pub alone: Minute,
}

impl Way {
    /// What to rank by: later, then what waits, then room.
    pub fn cost(&self) -> (Minute, i64, usize) {
        (self.later, self.extra_waiting, self.racks)
    }
}

/// Reads a plan: who is in the cavity when.
pub(super) struct Reading<'a> {
    pub(super) cavity: &'a Cavity,
    pub(super) problem: &'a Problem,
    pub(super) plan: &'a Plan,
}

impl<'a> Reading<'a> {
    fn planned(&self, step: &'a Step) -> Option<(&'a Step, &'a Mode, &'a PlannedStep)> {
        let planned = self.plan.steps.get(&step.id)?;
        Some((step, step.modes.get(planned.mode)?, planned))
    }

    fn is_there(&self, mode: &Mode) -> bool {
        mode.place.as_deref() == Some(self.cavity.id.as_str())
    }

    fn there(&self) -> Vec<(&'a Step, &'a Mode, &'a PlannedStep)> {
        let all = self.problem.steps.iter().filter_map(|step| self.planned(step));
        let mut there: Vec<_> = all.filter(|(_, mode, _)| self.is_there(mode)).collect();
        there.sort_by_key(|(_, _, planned)| (planned.start, planned.end));
        there
    }

    /// What is in the cavity at the minute at which most dishes are in it together.
    fn together(&self) -> Vec<(&'a Step, &'a Mode)> {
        let there = self.there();
        let at = |minute: Minute| -> Vec<(&'a Step, &'a Mode)> {
            let running = there.iter().filter(|(_, _, planned)| (planned.start..planned.end).contains(&minute));
            running.map(|(step, mode, _)| (*step, *mode)).collect()
        };
        let several = |found: &Vec<(&Step, &Mode)>| found.iter().any(|(step, _)| step.dish != found[0].0.dish);
        let moments = there.iter().map(|(_, _, planned)| at(planned.start)).filter(several);
        // The first of the fullest.
        moments.reduce(|best, found| if found.len() > best.len() { found } else { best }).unwrap_or_default()
    }

    pub(super) fn manner(&self) -> Manner {
        if !self.together().is_empty() {
            return Manner::SideBySide;
        }
        let there = self.there();
        let from_the_oven = |step: &Step| {
            let links = self.problem.links.iter().filter(|link| link.to == step.id);
            links
                .into_iter()
                .any(|link| there.iter().any(|(other, _, _)| other.id == link.from && other.dish == step.dish))
        };
        let all = self.problem.steps.iter().filter_map(|step| self.planned(step));
        let mut resting = all.filter(|(step, mode, _)| mode.place.is_none() && mode.hands == 0 && from_the_oven(step));
        let while_resting = resting.any(|(rest, _, a)| {
            there.iter().any(|(step, _, b)| step.dish != rest.dish && a.start < b.end && b.start < a.end)
        });
        // Out of the oven and back into it: what lies between is a rest, too.
        let comes_back = there.iter().enumerate().any(|(index, (step, _, _))| {
            let later = &there[index + 1..];
            later.iter().position(|(other, _, _)| other.dish == step.dish).is_some_and(|at| at > 0)
        });
        if while_resting || comes_back { Manner::WhileResting } else { Manner::InTurn }
    }

    pub(super) fn way(
        &self,
        manner: Manner,
        later: Minute,
        extra_waiting: i64,
        alone: &BTreeMap<String, Minute>,
    ) -> Way {
        let together = self.together();
        let mut spots = BTreeMap::new();
        let pans: Vec<[i64; 3]> = together.iter().filter_map(|(_, mode)| mode.pan).collect();
        let weights: Vec<i64> = together.iter().filter_map(|(_, mode)| mode.weight).collect();
        if let (false, Fit::Yes(found)) = (pans.is_empty(), Packer::new().fits_cavity(self.cavity, &pans, &weights)) {
            spots = together.iter().map(|(step, _)| step.id.clone()).zip(found).collect();
        }
        let mut racks: Vec<usize> = spots.values().map(|spot| spot.rack).collect();
        racks.sort_unstable();
        racks.dedup();
        let air = together.iter().filter_map(|(_, mode)| mode.t).reduce(|a, b| [a[0].max(b[0]), a[1].min(b[1])]);
        let visits = self.there().into_iter().map(|(step, mode, planned)| Visit {
            dish: step.dish.clone(),
            step: step.id.clone(),
            start: planned.start,
            end: planned.end,
            air: mode.t.unwrap_or_default(),
            alone: alone.get(&step.id).copied().unwrap_or(planned.end - planned.start),
        });
        let proved = self.plan.bounds[..2] == [self.plan.lateness, self.plan.waiting];
        let visits = visits.collect();
        Way { manner, later, extra_waiting, visits, racks: racks.len(), spots, air, proved, plan: self.plan.clone() }
    }
}

//! A feast with its plan, and all that follows from it.

use rangewright_models::caution::{self, PlanCaution, add_washing};
use rangewright_models::day::{Entry, fold_with};
use rangewright_models::labels::Labels;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::Schedule;

use super::Planner;
use crate::calm::calm;
use crate::error::Error;
use crate::limits::Limits;
use crate::margins::{Margins, margins};
use crate::odds::{Dice, Odds, Ranges, odds};
use crate::outcome::{Planned, Proof, StopReason};
use crate::replan::{Replanned, replan};
use crate::slack::{Slack, slack};

/// A feast with its plan: what the cooks do, what to take care of, what is proved, and what may go wrong.
///
/// Made by [`Planner::plan`] and [`Planner::with`]; the plan in it has passed the checker.
#[derive(Clone, Debug)]
pub struct FeastPlan {
    planner: Planner,
    planned: Planned,
    schedule: Schedule,
}

impl FeastPlan {
    /// The plan must be one of the planner's problem.
    pub(super) fn new(planner: Planner, planned: Planned) -> FeastPlan {
        let schedule = planner.schedule(&planned.plan);
        FeastPlan { planner, planned, schedule }
    }

    /// What was planned.
    pub fn planner(&self) -> &Planner {
        &self.planner
    }

    /// The problem behind it.
    pub fn problem(&self) -> &Problem {
        self.planner.problem()
    }

    /// What people call the parts of the problem.
    pub fn labels(&self) -> &Labels {
        self.planner.labels()
    }

    /// The plan: a mode and minutes for each step. It is what is stored, and what [`Planner::with`] takes back.
    pub fn plan(&self) -> &Plan {
        &self.planned.plan
    }

    /// The plan, and why the search went no further.
    pub fn planned(&self) -> &Planned {
        &self.planned
    }

    /// What the cooks and the appliances do.
    pub fn schedule(&self) -> &Schedule {
        &self.schedule
    }

    /// What to take care of, limits that are broken first.
    pub fn cautions(&self) -> Vec<PlanCaution> {
        caution::of_plan(self.problem(), self.labels(), self.plan())
    }

    /// How good the plan is known to be.
    pub fn proof(&self) -> Proof {
        self.planned.proof()
    }

    /// How few and how many minutes each step may really take; see [`Planner::ranges`].
    pub fn ranges(&self, doubt: u32) -> Ranges {
        self.planner.ranges(self.plan(), doubt)
    }

    /// Plays the evening many times over: how likely the hour is to be kept.
    ///
    /// # Errors
    /// As [`odds`](crate::odds::odds).
    pub fn odds(&self, doubt: u32, dice: Dice) -> Result<Odds, Error> {
        odds(self.problem(), self.plan(), self.planner.crew(), &self.ranges(doubt), dice)
    }

    /// The same evening with room in it for what takes longer, for at most `price` percent more waiting, and by how much its
    /// waiting costs more; see [`calm`]. What is not said of a step is in doubt by `doubt` percent; `known` is a plan that people
    /// have already.
    ///
    /// # Errors
    /// As [`calm`].
    pub fn calmer(&self, doubt: u32, price: u32, known: Option<&Plan>) -> Result<(FeastPlan, i64), Error> {
        let calmed = calm(self.problem(), self.plan(), self.planner.crew(), &self.ranges(doubt), price, known)?;
        let planned = Planned { plan: calmed.plan, stopped_by: self.planned.stopped_by, work: self.planned.work };
        Ok((FeastPlan::new(self.planner.clone(), planned), calmed.waiting))
    }

    /// The same evening with margins after the steps that make it late, until every course keeps its hour in `percent` of the
    /// evenings, within the dice's minutes of it; see [`margins`].
    ///
    /// # Errors
    /// As [`margins`].
    pub fn surer(
        &self,
        doubt: u32,
        dice: Dice,
        percent: u32,
        limits: &Limits<'_>,
    ) -> Result<(FeastPlan, Margins), Error> {
        let crew = self.planner.crew();
        let found = margins(self.problem(), self.plan(), crew, &self.ranges(doubt), dice, percent, limits)?;
        if found.plan == *self.plan() {
            return Ok((self.clone(), found));
        }
        let planned = Planned { plan: found.plan.clone(), stopped_by: StopReason::Work, work: self.planned.work };
        Ok((FeastPlan::new(self.planner.clone(), planned), found))
    }

    /// What each step may lose before something is late.
    pub fn slack(&self) -> Vec<Slack> {
        slack(self.problem(), self.plan(), self.planner.crew())
    }

    /// Plans the rest of the day again at `now`, given what was logged; each cook keeps what this plan told them, where that
    /// can be.
    ///
    /// # Errors
    /// [`Error::Log`] names every entry that cannot be true; else as [`replan`](crate::replan::replan).
    pub fn replan(&self, log: &[Entry], now: Minute, limits: &Limits<'_>) -> Result<Replanned, Error> {
        let roasts = self.planner.labels().roasts();
        let day = fold_with(self.problem(), self.plan(), log, now, &roasts).map_err(Error::Log)?;
        let crew = self.planner.crew().used_to(&self.schedule);
        let mut replanned = replan(self.problem(), self.plan(), &day, &crew, limits)?;
        if let Replanned::Planned(replan) = &mut replanned {
            add_washing(&mut replan.schedule, &replan.problem, self.planner.labels(), &replan.plan);
        }
        Ok(replanned)
    }
}

//! Asking whether there is a plan at all, many times over, within one limit.

use rangewright_models::check::check;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{FaultKind, Problem};

use crate::board::Board;
use crate::instance::Instance;
use crate::search::complete;
use crate::unfold::Unfolded;
use crate::{Error, Limits, portfolio};

/// What a probe found.
pub(crate) enum Finding {
    /// A checked plan. Its bounds are 0: nothing is proved of its quality.
    Plan(Plan),
    /// It is proved that there is none.
    None,
    /// A limit was reached first.
    Unknown,
}

/// Probes share one work limit, and none of them may use more than a part of it.
pub(crate) struct Probe<'l> {
    limits: Limits<'l>,
    /// The most work for one probe.
    each: u64,
    left: Option<u64>,
}

/// Work after which a single probe gives up, so that one hard question does not eat the answer to all others.
const EACH: u64 = 200_000;

impl<'l> Probe<'l> {
    pub(crate) fn new(limits: &Limits<'l>) -> Self {
        Probe { limits: Limits { start: None, progress: None, threads: 1, ..*limits }, each: EACH, left: limits.work }
    }

    /// Whether whoever asked does not wait any longer: every further finding is unknown.
    pub(crate) fn is_halted(&self) -> bool {
        self.limits.halt().said()
    }

    /// From now on a probe may use no more than its share of what is left for so many probes.
    pub(crate) fn share(&mut self, probes: usize) {
        let share = self.left.map_or(EACH, |left| left / probes.max(1) as u64);
        self.each = share.min(EACH);
    }

    /// Looks for any plan.
    pub(crate) fn find(&mut self, problem: &Problem) -> Result<Finding, Error> {
        self.search(problem, 0)
    }

    /// Looks for the best plan in the first `goals` goals; a plan is returned also when a limit came before the proof.
    pub(crate) fn search(&mut self, problem: &Problem, goals: usize) -> Result<Finding, Error> {
        self.search_as(problem, problem, goals)
    }

    /// As [`Probe::search`]; the plan is judged as one of another problem that demands less. That makes room for links which
    /// a problem may not have: from a last step to a step of another dish. An order that closes a circle has no plan.
    pub(crate) fn search_as(&mut self, problem: &Problem, judge: &Problem, goals: usize) -> Result<Finding, Error> {
        if self.is_halted() {
            return Ok(Finding::Unknown);
        }
        if !may_be_searched(problem) {
            return Ok(Finding::None);
        }
        let unfolded = Unfolded::new(problem);
        let instance = match Instance::until(unfolded.problem(), self.limits.halt()) {
            Ok(instance) => instance,
            Err(_) => return Ok(Finding::None),
        };
        let work = self.left.map_or(self.each, |left| left.min(self.each));
        let limits = Limits { work: Some(work), ..self.limits };
        let mut board = Board::new(&instance, &limits);
        board.limit_goals(goals);
        portfolio::run(&mut board);
        if let Some(left) = &mut self.left {
            *left = left.saturating_sub(board.progress().work);
        }
        let Some((_, best)) = board.incumbent() else {
            return Ok(if board.is_surely_refuted() { Finding::None } else { Finding::Unknown });
        };
        let mut plan = complete(&instance, &[best], board.sure_bounds());
        unfolded.fold(problem, &mut plan);
        check(judge, &plan).map_err(Error::Internal)?;
        Ok(Finding::Plan(plan))
    }
}

/// Whether a problem has no fault but last steps that others wait for.
pub(crate) fn may_be_searched(problem: &Problem) -> bool {
    problem.faults().iter().all(|fault| matches!(fault.what, FaultKind::SinkWithSuccessor { .. }))
}

//! What all engines share: the best plan, the bounds, and the limits.

use std::sync::Arc;

use crate::assignment::{Assignment, Cost};
use crate::exchange::{Exchange, News};
use crate::instance::Instance;
use crate::limits::Limits;
use crate::outcome::{Progress, StopReason};

/// The common knowledge of the engines. Whatever one finds or proves, all others see at once.
pub(crate) struct Board<'i, 'p, 'l> {
    pub(crate) instance: &'i Instance<'p>,
    limits: &'l Limits<'l>,
    /// How many goals matter: 3, or 0 when any plan will do.
    goals: usize,
    known: News,
    /// A search on another thread, and the version of what is known to both.
    exchange: Option<(Arc<Exchange>, u64)>,
    work: u64,
    /// Work at which the current engine must hand back.
    slice: u64,
    stopped: Option<StopReason>,
}

impl<'i, 'p, 'l> Board<'i, 'p, 'l> {
    pub(crate) fn new(instance: &'i Instance<'p>, limits: &'l Limits<'l>) -> Self {
        Board {
            instance,
            limits,
            goals: 3,
            known: News::default(),
            exchange: None,
            work: 0,
            slice: u64::MAX,
            stopped: None,
        }
    }

    /// From now on everything is shared with the boards that trade at the same exchange.
    pub(crate) fn join(&mut self, exchange: Arc<Exchange>) {
        let version = exchange.trade(&mut self.known);
        self.exchange = Some((exchange, version));
    }

    /// Ends the sharing, with the last news.
    pub(crate) fn part(&mut self) {
        if let Some((exchange, _)) = self.exchange.take() {
            exchange.trade(&mut self.known);
        }
    }

    /// The limits the search was given.
    pub(crate) fn limits(&self) -> &'l Limits<'l> {
        self.limits
    }

    /// Offers a valid assignment. Returns whether it is better than the best so far.
    pub(crate) fn offer(&mut self, assignment: Assignment) -> bool {
        let cost = assignment.cost(self.instance);
        if self.known.best.as_ref().is_some_and(|(best, _)| cost >= *best) {
            return false;
        }
        self.known.take((cost, assignment));
        self.tell();
        true
    }

    /// Raises the bound on a goal. It must hold among all plans that are as good as the best in the goals before it.
    pub(crate) fn raise(&mut self, goal: usize, bound: i64) {
        if bound > self.known.bounds[goal] {
            self.known.bounds[goal] = bound;
            if !self.instance.is_in_doubt() {
                self.known.sure[goal] = bound;
            }
            self.tell();
        }
    }

    /// It is proved that there is no plan.
    pub(crate) fn refute(&mut self) {
        self.known.impossible = self.known.best.is_none();
        self.known.surely_impossible = self.known.impossible && !self.instance.is_in_doubt();
        self.tell();
    }

    /// The best assignment found so far, and its cost.
    pub(crate) fn incumbent(&self) -> Option<(&Cost, &Assignment)> {
        self.known.best.as_ref().map(|(cost, assignment)| (cost, assignment))
    }

    pub(crate) fn bounds(&self) -> Cost {
        self.known.bounds
    }

    /// The bounds that may be told: never above the best plan, and none that rests on a doubt.
    pub(crate) fn sure_bounds(&self) -> Cost {
        let most = self.known.best.as_ref().map_or([i64::MAX; 3], |(cost, _)| *cost);
        std::array::from_fn(|goal| self.known.sure[goal].min(most[goal]))
    }

    pub(crate) fn is_refuted(&self) -> bool {
        self.known.impossible
    }

    /// Whether that may be told.
    pub(crate) fn is_surely_refuted(&self) -> bool {
        self.known.surely_impossible
    }

    /// Whether the best plan is proved best in this goal (and in all before it).
    pub(crate) fn proved(&self, goal: usize) -> bool {
        self.incumbent().is_some_and(|(cost, _)| (0..=goal).all(|goal| cost[goal] <= self.known.bounds[goal]))
    }

    /// Whether the best plan is within a thirtieth or so of the bound: what is left to do is to prove it.
    pub(crate) fn is_nearly_proved(&self, goal: usize) -> bool {
        self.incumbent().is_some_and(|(cost, _)| cost[goal] - self.known.bounds[goal] <= cost[goal] / 32)
    }

    /// How many goals matter.
    pub(crate) fn goals(&self) -> usize {
        self.goals
    }

    /// Only the first `goals` goals matter from now on; with 0 any plan will do.
    pub(crate) fn limit_goals(&mut self, goals: usize) {
        self.goals = goals;
    }

    /// The first goal that matters and is not proved yet; none when all is done.
    pub(crate) fn open_goal(&self) -> Option<usize> {
        if self.known.best.is_none() {
            return (!self.known.impossible).then_some(0);
        }
        (0..self.goals).find(|&goal| !self.proved(goal))
    }

    /// Spends work. False: hand back at once (the slice is used up, a limit is reached, or another thread has got further).
    pub(crate) fn spend(&mut self, units: u64) -> bool {
        self.work += units;
        if self.stopped.is_none() {
            if self.limits.work.is_some_and(|limit| self.work >= limit) {
                self.stopped = Some(StopReason::Work);
            } else if self.limits.halt().said() {
                self.stopped = Some(StopReason::Stop);
            }
        }
        if let Some((exchange, version)) = &self.exchange
            && exchange.version() != *version
        {
            let goal = self.open_goal();
            self.tell();
            if self.open_goal() != goal {
                self.slice = self.work;
            }
        }
        self.stopped.is_none() && self.work < self.slice
    }

    /// Gives the next engine this much work, until [`Board::spend`] says false.
    pub(crate) fn start_slice(&mut self, units: u64) {
        self.slice = self.work.saturating_add(units);
    }

    /// Whether a limit was reached.
    pub(crate) fn stopped(&self) -> Option<StopReason> {
        self.stopped
    }

    /// The gap asked for is reached.
    pub(crate) fn close_enough(&self) -> bool {
        let Some((cost, _)) = self.incumbent() else { return false };
        let allowed = i64::from(self.limits.gap_per_mille);
        allowed > 0 && self.proved(0) && (cost[1] - self.known.bounds[1]) * 1000 <= allowed * cost[1]
    }

    /// Why the search ended, once it has.
    pub(crate) fn end(&self) -> StopReason {
        let sure = self.sure_bounds();
        let is_done = self.incumbent().is_some_and(|(cost, _)| (0..self.goals).all(|goal| cost[goal] <= sure[goal]));
        match self.stopped {
            _ if is_done || self.is_surely_refuted() => StopReason::Proof,
            _ if self.open_goal().is_none() => StopReason::Packing,
            Some(reason) => reason,
            None => StopReason::Gap,
        }
    }

    pub(crate) fn progress(&self) -> Progress {
        Progress {
            best: self.incumbent().map(|(cost, _)| *cost),
            bounds: self.sure_bounds(),
            work: self.work,
            stopped_by: self.stopped,
        }
    }

    /// Tells the other thread and the caller.
    fn tell(&mut self) {
        if let Some((exchange, version)) = &mut self.exchange {
            *version = exchange.trade(&mut self.known);
        }
        if let Some(listener) = self.limits.progress {
            listener(&self.progress());
        }
    }
}

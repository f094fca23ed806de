//! What all engines share: the best plan, the bounds, and the limits.

use crate::assignment::{Assignment, Cost};
use crate::instance::Instance;
use crate::limits::Limits;
use crate::outcome::{Progress, StopReason};

/// The common knowledge of the engines. Whatever one finds or proves, all others see at once.
pub(crate) struct Board<'i, 'p, 'l> {
    pub(crate) instance: &'i Instance<'p>,
    limits: &'l Limits<'l>,
    /// How many goals matter: 3, or 0 when any plan will do.
    goals: usize,
    best: Option<(Cost, Assignment)>,
    /// The bound on the first goal holds for all plans; one on a later goal among plans as good as the best in all before.
    bounds: Cost,
    /// Those of the bounds that do not rest on a question about room that could not be decided.
    sure: Cost,
    impossible: bool,
    /// That there is no plan does not rest on such a question.
    surely_impossible: bool,
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
            best: None,
            bounds: [0; 3],
            sure: [0; 3],
            impossible: false,
            surely_impossible: false,
            work: 0,
            slice: u64::MAX,
            stopped: None,
        }
    }

    /// Offers a valid assignment. Returns whether it is better than the best so far.
    pub(crate) fn offer(&mut self, assignment: Assignment) -> bool {
        let cost = assignment.cost(self.instance);
        let Some((best, _)) = &self.best else {
            self.best = Some((cost, assignment));
            self.tell();
            return true;
        };
        if cost >= *best {
            return false;
        }
        // A bound on a later goal was only for plans as good as the old best in the goals before it.
        if let Some(goal) = (0..3).find(|&goal| cost[goal] < best[goal]) {
            self.bounds[goal + 1..].fill(0);
            self.sure[goal + 1..].fill(0);
        }
        self.best = Some((cost, assignment));
        self.tell();
        true
    }

    /// Raises the bound on a goal. It must hold among all plans that are as good as the best in the goals before it.
    pub(crate) fn raise(&mut self, goal: usize, bound: i64) {
        if bound > self.bounds[goal] {
            self.bounds[goal] = bound;
            if !self.instance.is_in_doubt() {
                self.sure[goal] = bound;
            }
            self.tell();
        }
    }

    /// It is proved that there is no plan.
    pub(crate) fn refute(&mut self) {
        self.impossible = self.best.is_none();
        self.surely_impossible = self.impossible && !self.instance.is_in_doubt();
    }

    pub(crate) fn best(&self) -> Option<(&Cost, &Assignment)> {
        self.best.as_ref().map(|(cost, assignment)| (cost, assignment))
    }

    pub(crate) fn bounds(&self) -> Cost {
        self.bounds
    }

    /// The bounds that may be told: never above the best plan, and none that rests on a doubt.
    pub(crate) fn sure_bounds(&self) -> Cost {
        let most = self.best.as_ref().map_or([i64::MAX; 3], |(cost, _)| *cost);
        std::array::from_fn(|goal| self.sure[goal].min(most[goal]))
    }

    pub(crate) fn is_refuted(&self) -> bool {
        self.impossible
    }

    /// Whether that may be told.
    pub(crate) fn is_surely_refuted(&self) -> bool {
        self.surely_impossible
    }

    /// Why the search ended, once it has.
    pub(crate) fn end(&self) -> StopReason {
        let is_done = self.best.as_ref().is_some_and(|(cost, _)| {
            let sure = self.sure_bounds();
            (0..self.goals).all(|goal| cost[goal] <= sure[goal])
        });
        match self.stopped {
            _ if is_done || self.surely_impossible => StopReason::Proof,
            _ if self.open_goal().is_none() => StopReason::Packing,
            Some(reason) => reason,
            None => StopReason::Gap,
        }
    }

    /// Whether the best plan is proved best in this goal (and in all before it).
    pub(crate) fn proved(&self, goal: usize) -> bool {
        self.best.as_ref().is_some_and(|(cost, _)| (0..=goal).all(|goal| cost[goal] <= self.bounds[goal]))
    }

    /// Only the first `goals` goals matter from now on; with 0 any plan will do.
    pub(crate) fn care_for(&mut self, goals: usize) {
        self.goals = goals;
    }

    /// The first goal that matters and is not proved yet; none when all is done.
    pub(crate) fn open_goal(&self) -> Option<usize> {
        if self.best.is_none() {
            return (!self.impossible).then_some(0);
        }
        (0..self.goals).find(|&goal| !self.proved(goal))
    }

    /// Spends work. False: hand back at once (the slice is used up, a limit is reached, or all is done).
    pub(crate) fn spend(&mut self, units: u64) -> bool {
        self.work += units;
        if self.stopped.is_none() {
            if self.limits.work.is_some_and(|limit| self.work >= limit) {
                self.stopped = Some(StopReason::Work);
            } else if self.limits.stop.is_some_and(|stop| stop()) {
                self.stopped = Some(StopReason::Stop);
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
        let Some((cost, _)) = &self.best else { return false };
        let allowed = i64::from(self.limits.gap_per_mille);
        allowed > 0 && self.proved(0) && (cost[1] - self.bounds[1]) * 1000 <= allowed * cost[1]
    }

    pub(crate) fn progress(&self) -> Progress {
        Progress {
            best: self.best.as_ref().map(|(cost, _)| *cost),
            bounds: self.sure_bounds(),
            work: self.work,
            stopped_by: self.stopped,
        }
    }

    fn tell(&self) {
        if let Some(listener) = self.limits.progress {
            listener(&self.progress());
        }
    }
}

//! What two searches on the same problem tell each other.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, MutexGuard, PoisonError};

use crate::assignment::{Assignment, Cost};

/// The best plan and the bounds of both searches, and how often they changed.
#[derive(Default)]
pub(crate) struct Exchange {
    news: Mutex<News>,
    /// Raised with every change, so that looking for news costs next to nothing.
    version: AtomicU64,
}

/// The knowledge of one search or of both.
#[derive(Clone, Default)]
pub(crate) struct News {
    pub(crate) best: Option<(Cost, Assignment)>,
    /// Bounds as on the board: those of later goals hold among plans as good as the best in the goals before.
    pub(crate) bounds: Cost,
    /// Those that do not rest on undecided packing.
    pub(crate) sure: Cost,
    pub(crate) impossible: bool,
    pub(crate) surely_impossible: bool,
}

impl News {
    /// Takes in what the other side knows. Returns whether anything was new.
    pub(crate) fn merge(&mut self, other: &News) -> bool {
        let mut is_new = false;
        if let Some((cost, plan)) = &other.best
            && self.best.as_ref().is_none_or(|(best, _)| cost < best)
        {
            self.take((*cost, plan.clone()));
            is_new = true;
        }
        let shared = self.shared_goals(other);
        for goal in 0..shared {
            for (own, theirs) in [(&mut self.bounds, &other.bounds), (&mut self.sure, &other.sure)] {
                is_new |= theirs[goal] > own[goal];
                own[goal] = own[goal].max(theirs[goal]);
            }
        }
        is_new |= other.impossible && !self.impossible;
        self.impossible |= other.impossible && self.best.is_none();
        self.surely_impossible |= other.surely_impossible && self.best.is_none();
        is_new
    }

    /// Takes a better plan. A bound on a later goal was only for plans as good as the old best in the goals before it.
    pub(crate) fn take(&mut self, (cost, plan): (Cost, Assignment)) {
        if let Some((old, _)) = &self.best
            && let Some(goal) = (0..3).find(|&goal| cost[goal] < old[goal])
        {
            self.bounds[goal + 1..].fill(0);
            self.sure[goal + 1..].fill(0);
        }
        self.best = Some((cost, plan));
    }

    /// Bounds on so many goals mean the same on both sides: the best plans are alike in all goals before the last of them.
    fn shared_goals(&self, other: &News) -> usize {
        match (&self.best, &other.best) {
            (Some((own, _)), Some((theirs, _))) => (0..3).take_while(|&goal| own[..goal] == theirs[..goal]).count(),
            _ => 1,
        }
    }
}

impl Exchange {
    /// Tells and is told. Returns the version of what is now known to both.
    pub(crate) fn trade(&self, own: &mut News) -> u64 {
        let mut news = self.lock();
        if news.merge(own) {
            self.version.fetch_add(1, Ordering::Release);
        }
        own.merge(&news);
        self.version.load(Ordering::Acquire)
    }

    /// Changes with every piece of news.
    pub(crate) fn version(&self) -> u64 {
        self.version.load(Ordering::Acquire)
    }

    fn lock(&self) -> MutexGuard<'_, News> {
        // Whatever a search left here is whole: news are merged without a way to panic half way.
        self.news.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn news(cost: Cost, bounds: Cost) -> News {
        let plan = Assignment { steps: Vec::new(), served: Vec::new() };
        News { best: Some((cost, plan)), bounds, sure: bounds, ..News::default() }
    }

    #[test]
    fn bounds_are_shared_as_far_as_they_mean_the_same() {
        // The other search is a little worse in waiting, so its bound on hot minutes is about other plans.
        let mut own = news([0, 50, 9], [0, 40, 0]);
        assert!(own.merge(&news([0, 60, 7], [0, 45, 7])));
        assert_eq!((own.best.as_ref().map(|best| best.0), own.bounds), (Some([0, 50, 9]), [0, 45, 0]));
    }

    #[test]
    fn a_better_plan_voids_bounds_for_worse_ones() {
        let mut own = news([5, 50, 9], [3, 50, 8]);
        assert!(own.merge(&news([4, 70, 9], [4, 0, 0])));
        assert_eq!(own.bounds, [4, 0, 0]);
        assert!(!own.clone().merge(&own));
    }

    #[test]
    fn news_reach_the_other_side() {
        let exchange = Exchange::default();
        let (mut one, mut two) = (news([0, 50, 9], [0, 10, 0]), news([0, 70, 9], [0, 45, 0]));
        let first = exchange.trade(&mut one);
        assert!(exchange.trade(&mut two) > first);
        exchange.trade(&mut one);
        assert_eq!(one.bounds, [0, 45, 0]);
        assert_eq!(two.best.map(|best| best.0), Some([0, 50, 9]));
    }
}

//! Waiting, proved by branch-and-price over dish timetables.
//!
//! A timetable is one component's complete choice of modes and minutes; a component is a dish, or several tied by links. An integer
//! program (`master`) takes one timetable for each component so that nothing is overbooked (`row`, `separate`). Timetables are
//! made on demand by dynamic programming under the prices of the minutes (`timetable`), and the sum of the least costs less
//! what the prices are paid for is a lower bound on waiting, exact because prices are rounded to integers first. The tree
//! (`root`, `branch`) closes what is left. Each vector of servings with the proved lateness has a tree of its own (`slips`).

mod branch;
mod component;
mod domain;
mod lift;
mod master;
mod reduced_cost;
mod root;
mod row;
mod separate;
mod slide;
mod slips;
#[cfg(test)]
mod tests;
mod timetable;

use crate::board::Board;
use crate::instance::{Instance, Time};

use component::Component;
use domain::Ways;
pub(crate) use reduced_cost::{Frame, ReducedCost, ReducedCosts, frames};
use root::{Root, best_waiting};
pub(crate) use slide::Costs;

/// Prices and costs are integers in units of one part in so many of a point of waiting.
const SCALE: i64 = 1 << 16;
/// Not at any price. Sums of real costs stay far below.
pub(crate) const NEVER: i64 = i64::MAX / 4;
/// With more vectors of servings than this the engine does not apply.
const MOST_SERVINGS: usize = 2_000;

/// The engine.
pub(crate) struct Pricer<'i, 'p> {
    instance: &'i Instance<'p>,
    ways: Ways,
    components: Vec<Component>,
    /// The trees for one value of lateness; those of another are of no use.
    lateness: Option<i64>,
    roots: Vec<Root<'i, 'p>>,
    gives_up: bool,
}

impl<'i, 'p> Pricer<'i, 'p> {
    /// None if the engine does not apply: some component is no tree that runs together.
    pub(crate) fn new(instance: &'i Instance<'p>) -> Option<Self> {
        if component::has_parallel_links(instance) {
            return None;
        }
        let components = component::components(instance)?;
        Some(Pricer {
            instance,
            ways: Ways::new(instance),
            components,
            lateness: None,
            roots: Vec::new(),
            gives_up: false,
        })
    }

    /// Works on waiting until the board's slice or a limit is used up. Lateness must be proved.
    pub(crate) fn run(&mut self, board: &mut Board<'_, '_, '_>) {
        let Some((cost, _)) = board.incumbent().filter(|_| board.proved(0)) else { return };
        if self.lateness != Some(cost[0]) {
            self.lateness = Some(cost[0]);
            let servings = slips::servings(self.instance, cost[0], MOST_SERVINGS);
            self.gives_up = servings.is_none();
            let root = |served: Vec<Time>| Root::new(self.instance, &self.ways, &self.components, served);
            self.roots = servings.unwrap_or_default().into_iter().map(root).collect();
        }
        if self.gives_up {
            return;
        }
        loop {
            let best = best_waiting(board);
            let bound = self.roots.iter().map(|root| root.bound(best)).min().unwrap_or(best);
            board.raise(1, bound);
            if bound >= best {
                return;
            }
            let mut bounds: Vec<(i64, usize)> =
                self.roots.iter().enumerate().map(|(index, root)| (root.bound(best), index)).collect();
            bounds.sort_unstable();
            let other = bounds.get(1).map_or(best, |next| next.0);
            self.roots[bounds[0].1].run(board, &self.ways, &self.components, other);
            if !board.spend(1) {
                let best = best_waiting(board);
                let bound = self.roots.iter().map(|root| root.bound(best)).min().unwrap_or(best);
                board.raise(1, bound);
                return;
            }
        }
    }

    /// What starts and ends cost under the best prices known, for each vector of servings with the proved lateness. Nothing if
    /// that is not known.
    pub(crate) fn reduced_costs(&mut self) -> Option<Vec<ReducedCosts>> {
        if self.gives_up || self.lateness.is_none() {
            return None;
        }
        let mut all = Vec::new();
        for root in self.roots.iter_mut().filter(|root| root.has_plans()) {
            all.extend(root.reduced_costs(&self.ways, &self.components)?);
        }
        Some(all)
    }

    /// Whether there is nothing this engine can do.
    pub(crate) fn gives_up(&self) -> bool {
        self.gives_up
    }
}

//! Branch-and-price for one vector of servings.

use std::collections::BTreeMap;

use super::branch;
use super::component::Component;
use super::domain::{Decision, Domain, Ways};
use super::lift;
use super::master::Master;
use super::reduced_cost::ReducedCosts;
use super::row::{Row, Side};
use super::separate::{Separator, Share};
use super::slide::{Costs, add};
use super::timetable::{Closed, Marks, Timetables};
use super::{NEVER, SCALE};
use crate::assignment::Choice;
use crate::board::Board;
use crate::instance::{Instance, Time};
use crate::local::valid;

/// The most timetables made for a component in one round.
const AT_ONCE: usize = 3;

/// A node that is still to be looked at.
#[derive(Clone, Debug)]
struct Node {
    decisions: Vec<Decision>,
    /// No plan below it waits less.
    bound: i64,
}

/// How a node ended.
enum End {
    /// Nothing better than the best plan lies below it.
    Closed,
    /// It was split in two, the more promising half last.
    Split([Node; 2]),
    /// The slice of work is used up; it has to be looked at again.
    Paused,
}

/// The rows that had a price when the bound of the whole tree was best, and that bound, scaled. Minutes may have been closed
/// by then, so the bound holds for plans better than the best one only; the prices are good for all.
struct Best {
    rows: Vec<Row>,
    prices: Vec<i64>,
    least: i64,
}

/// The tree below one vector of servings.
pub(super) struct Root<'i, 'p> {
    instance: &'i Instance<'p>,
    served: Vec<Time>,
    master: Master,
    timetables: Timetables<'i, 'p>,
    domain: Option<Domain>,
    closed: Closed,
    /// Open nodes by bound, the oldest first; the last element of a list is taken first.
    open: BTreeMap<i64, Vec<Node>>,
    /// The node to go on with, to stay on one path as long as it is promising.
    plunge: Option<Node>,
    /// The waiting for which minutes were last closed.
    closed_for: i64,
    pub(super) nodes: u64,
    /// Prices that bound all plans with these servings, not only those below some node.
    best: Option<Best>,
}

impl<'i, 'p> Root<'i, 'p> {
    pub(super) fn new(instance: &'i Instance<'p>, ways: &Ways, components: &[Component], served: Vec<Time>) -> Self {
        let domain = Domain::new(instance, ways, components, &served);
        let node = Node { decisions: Vec::new(), bound: 0 };
        let open = if domain.is_some() { BTreeMap::from([(0, vec![node])]) } else { BTreeMap::new() };
        Root {
            instance,
            served,
            master: Master::new(components.len()),
            timetables: Timetables::new(instance, ways),
            domain,
            closed: Closed { start: vec![Marks::default(); ways.of.len()], end: vec![Marks::default(); ways.of.len()] },
            open,
            plunge: None,
            closed_for: i64::MAX,
            nodes: 0,
            best: None,
        }
    }

    /// No plan with these servings that is better than `best` waits less than this; `best` if the tree is closed.
    pub(super) fn bound(&self, best: i64) -> i64 {
        let open = self.open.keys().next().copied();
        let plunge = self.plunge.as_ref().map(|node| node.bound);
        open.into_iter().chain(plunge).min().unwrap_or(best).min(best)
    }

    /// Looks at nodes until the board says stop, the tree is closed, or another tree with a bound of `other` is more promising.
    pub(super) fn run(&mut self, board: &mut Board<'_, '_, '_>, ways: &Ways, components: &[Component], other: i64) {
        loop {
            let best = best_waiting(board);
            if self.bound(best) > other {
                return;
            }
            let mut node = match self.plunge.take() {
                Some(node) => node,
                None => {
                    let Some(mut entry) = self.open.first_entry() else { return };
                    let node = entry.get_mut().pop();
                    if entry.get().is_empty() {
                        entry.remove();
                    }
                    let Some(node) = node else { continue };
                    node
                }
            };
            if node.bound >= best {
                continue;
            }
            match self.look_at(&mut node, board, ways, components) {
                End::Closed => {}
                End::Paused => {
                    self.plunge = Some(node);
                    return;
                }
                End::Split([other, first]) => {
                    self.open.entry(other.bound).or_default().push(other);
                    // Stay on the path while it is not much worse than the best open node.
                    self.plunge = Some(first);
                }
            }
        }
    }

    /// Column generation at a node.
    fn look_at(
        &mut self,
        node: &mut Node,
        board: &mut Board<'_, '_, '_>,
        ways: &Ways,
        components: &[Component],
    ) -> End {
        let Some(mut domain) = self.domain.clone() else { return End::Closed };
        for &decision in &node.decisions {
            if !domain.decide(self.instance, ways, components, decision) {
                return End::Closed;
            }
        }
        self.nodes += 1;
        self.timetables.lay_out(ways, &domain, &self.served, &self.closed);
        self.adopt(board, ways, components);
        let closed = &self.closed;
        self.master.open(ways, components, &domain, |way, choice| {
            closed.start[way].is_closed(choice.start) || closed.end[way].is_closed(choice.end)
        });
        self.master.stay_below(best_waiting(board) as f64);
        let mut stalls = 0;
        loop {
            let pivots = self.master.pivots();
            if !self.master.solve() {
                stalls += 1;
            }
            let spent = (self.master.pivots() - pivots) * (1 + self.master.rows.len() as u64 / 40) + 10;
            let may_go_on = board.spend(spent);
            let Some((least, added)) = self.price(ways, components, &domain) else {
                if node.decisions.is_empty() && self.closed_for == i64::MAX {
                    self.domain = None;
                }
                return End::Closed;
            };
            if node.decisions.is_empty() && self.best.as_ref().is_none_or(|best| least > best.least) {
                self.keep_prices(least);
            }
            node.bound = node.bound.max(round_up(least));
            let bound = node.bound;
            let best = best_waiting(board);
            if bound >= best {
                return End::Closed;
            }
            if node.decisions.is_empty() && (added == 0 || self.closed_for != best) {
                self.close_minutes(least, best, ways, components, &domain);
            }
            if !may_go_on {
                return End::Paused;
            }
            let near = self.master.objective() - least as f64 / (SCALE as f64) < 0.3;
            if added > 0 && stalls < 3 && !near {
                continue;
            }
            let shares = self.shares(components);
            let rows = Separator { instance: self.instance, ways }.find(&shares);
            let mut new = 0;
            for row in rows {
                new += usize::from(self.master.add_row(ways, components, row));
            }
            if new == 0 && added == 0 {
                for row in lift::find(self.instance, ways, &shares) {
                    new += usize::from(self.master.add_row(ways, components, row));
                }
            }
            if new > 0 && stalls < 3 {
                self.master.purge((best - bound) as f64);
                continue;
            }
            if added > 0 && stalls < 3 {
                continue;
            }
            if stalls < 3 && self.master.insist() {
                continue;
            }
            if let Some(plan) = self.master.plan(self.instance, components, &self.served)
                && valid(self.instance, &plan)
            {
                let waiting = plan.waiting(self.instance);
                board.offer(plan);
                if bound >= waiting {
                    return End::Closed;
                }
            }
            self.master.purge((best - bound) as f64);
            return self.split(node, bound, &domain, board, ways, components);
        }
    }

    /// Prices all components. The least cost of all together, scaled, and how many timetables were added; none if a component has none.
    fn price(&mut self, ways: &Ways, components: &[Component], domain: &Domain) -> Option<(i64, usize)> {
        let prices = self.master.prices();
        self.timetables.price(&self.master.rows, &prices);
        let paid: i64 = self.master.rows.iter().zip(&prices).map(|(row, price)| row.rhs * price).sum();
        let mut least = -paid;
        let mut added = 0;
        for (index, component) in components.iter().enumerate() {
            let cost = self.timetables.cheapest(ways, component, domain)?;
            least += cost;
            // A gain of less than a thousandth of a point is round-off.
            let limit = (self.master.worth(index) - 1e-3 * SCALE as f64).floor() as i64;
            for choices in self.timetables.best(ways, component, domain, limit, AT_ONCE) {
                let waiting = self.waiting(component, &choices);
                added += usize::from(self.master.add_column(ways, component, index, &choices, waiting));
            }
        }
        Some((least, added))
    }

    /// What a timetable waits, without any prices.
    fn waiting(&self, component: &Component, choices: &[Choice]) -> i64 {
        let chosen = |step: usize| component.steps.iter().position(|&other| other == step).map(|index| choices[index]);
        let mut waiting = 0;
        for (&step, choice) in component.steps.iter().zip(choices) {
            let source = &self.instance.steps[step];
            let mode = &source.modes[choice.mode];
            waiting += mode.cost + mode.wait.cost(choice.end - choice.start - mode.min);
            if let Some((course, rate)) = source.sink {
                waiting += rate.cost(self.served[course] - choice.end);
            }
            for link in source.before.iter().map(|&link| &self.instance.links[link]) {
                if let Some(from) = chosen(link.from) {
                    waiting += link.wait.cost(choice.start - from.end - link.min);
                }
            }
        }
        waiting
    }

    /// Takes the timetables of the best plan in, if it has these servings.
    fn adopt(&mut self, board: &Board<'_, '_, '_>, ways: &Ways, components: &[Component]) {
        let Some((_, best)) = board.incumbent() else { return };
        if best.served != self.served {
            return;
        }
        for (index, component) in components.iter().enumerate() {
            let choices: Vec<_> = component.steps.iter().map(|&step| best.steps[step]).collect();
            let waiting = self.waiting(component, &choices);
            self.master.add_column(ways, component, index, &choices, waiting);
        }
    }

    fn shares(&self, components: &[Component]) -> Vec<Share> {
        let mut shares: BTreeMap<(usize, Choice), f64> = BTreeMap::new();
        for (column, share) in self.master.shares() {
            for (&step, &choice) in components[column.component].steps.iter().zip(&column.choices) {
                *shares.entry((step, choice)).or_default() += share;
            }
        }
        shares.into_iter().map(|((step, choice), share)| Share { step, choice, share }).collect()
    }

    /// Closes the starts and ends through which every timetable is too dear for a plan better than the best.
    fn close_minutes(&mut self, least: i64, best: i64, ways: &Ways, components: &[Component], domain: &Domain) {
        // A better plan waits at most best - 1.
        let spare = (best - 1).saturating_mul(SCALE) - least;
        for component in components {
            let Some(cheapest) = self.timetables.cheapest(ways, component, domain) else { return };
            let closed = &mut self.closed;
            self.timetables.through(ways, component, domain, |way, side, up_to, after| {
                let marks = if side == Side::Start { &mut closed.start[way] } else { &mut closed.end[way] };
                for ((minute, before), &onward) in up_to.iter().zip(&after.at) {
                    if before >= NEVER || onward >= NEVER || before + onward - cheapest > spare {
                        marks.close(minute, up_to.from, up_to.last());
                    }
                }
            });
        }
        self.closed_for = best;
        self.timetables.lay_out(ways, domain, &self.served, &self.closed);
        let closed = &self.closed;
        self.master.open(ways, components, domain, |way, choice| {
            closed.start[way].is_closed(choice.start) || closed.end[way].is_closed(choice.end)
        });
    }

    /// Keeps the prices of the master program, with the bound they give.
    fn keep_prices(&mut self, least: i64) {
        let priced = self.master.rows.iter().zip(self.master.prices()).filter(|(_, price)| *price > 0);
        let (rows, prices) = priced.map(|(row, price)| (row.clone(), price)).unzip();
        self.best = Some(Best { rows, prices, least });
    }

    /// Whether there may be a plan with these servings at all.
    pub(super) fn has_plans(&self) -> bool {
        self.domain.is_some()
    }

    /// What starts and ends cost under the best prices, all minutes open. None if nothing was priced yet; no reduced_costs if a component
    /// has no timetable.
    pub(super) fn reduced_costs(&mut self, ways: &Ways, components: &[Component]) -> Option<Option<ReducedCosts>> {
        let domain = self.domain.clone()?;
        let best = self.best.take()?;
        let open = Closed { start: vec![Marks::default(); ways.of.len()], end: vec![Marks::default(); ways.of.len()] };
        self.timetables.lay_out(ways, &domain, &self.served, &open);
        self.timetables.price(&best.rows, &best.prices);
        let paid: i64 = best.rows.iter().zip(&best.prices).map(|(row, price)| row.rhs * price).sum();
        self.best = Some(best);
        let mut reduced_costs = ReducedCosts {
            least: -paid,
            components: components.iter().map(|component| component.steps.clone()).collect(),
            of: self.instance.steps.iter().map(|step| vec![None; step.modes.len()]).collect(),
        };
        for component in components {
            let Some(cheapest) = self.timetables.cheapest(ways, component, &domain) else { return Some(None) };
            reduced_costs.least += cheapest;
            self.timetables.through(ways, component, &domain, |way, side, up_to, after| {
                let both = up_to.at.iter().zip(&after.at);
                let at = both.map(|(&before, &onward)| add(add(before, onward), -cheapest)).collect();
                let (step, mode) = ways.of[way];
                let reduced_cost = reduced_costs.of[step][mode].get_or_insert_default();
                let costs = if side == Side::Start { &mut reduced_cost.start } else { &mut reduced_cost.end };
                *costs = Costs { from: up_to.from, at };
            });
        }
        Some(Some(reduced_costs))
    }

    /// Splits a node by the decision that moves the bound most on both sides.
    fn split(
        &mut self,
        node: &Node,
        bound: i64,
        domain: &Domain,
        board: &mut Board<'_, '_, '_>,
        ways: &Ways,
        components: &[Component],
    ) -> End {
        let shares = self.shares(components);
        let candidates = branch::candidates(self.instance, ways, domain, &shares);
        let objective = self.master.objective();
        // What would close a half: more is no better.
        let most = (best_waiting(board) as f64 - objective).max(1.0);
        let mut best: Option<(f64, [Decision; 2], [f64; 2])> = None;
        for pair in candidates {
            let mut gains = [0.0; 2];
            for (gain, decision) in gains.iter_mut().zip(pair) {
                let mut narrowed = domain.clone();
                if !narrowed.decide(self.instance, ways, components, decision) {
                    *gain = most;
                    continue;
                }
                let allowed = |column: &super::master::Column| {
                    let steps = components[column.component].steps.iter();
                    steps.zip(&column.choices).all(|(&step, &choice)| narrowed.allows(ways, step, choice))
                };
                let pivots = self.master.pivots();
                *gain = (self.master.try_without(allowed, 60) - objective).clamp(0.0, most);
                board.spend((self.master.pivots() - pivots) * (1 + self.master.rows.len() as u64 / 40) + 10);
            }
            let score = gains[0].max(0.05) * gains[1].max(0.05);
            if best.as_ref().is_none_or(|(most, ..)| score > *most) {
                best = Some((score, pair, gains));
            }
        }
        let Some((_, pair, gains)) = best else { return End::Closed };
        let child = |decision: Decision| {
            let mut decisions = node.decisions.clone();
            decisions.push(decision);
            Node { decisions, bound }
        };
        // The half that costs less is looked at first.
        let [a, b] = pair.map(child);
        End::Split(if gains[0] <= gains[1] { [b, a] } else { [a, b] })
    }
}

/// What a better plan must stay below.
pub(super) fn best_waiting(board: &Board<'_, '_, '_>) -> i64 {
    board.incumbent().map_or(i64::MAX / (4 * SCALE), |(cost, _)| cost[1])
}

/// From scaled to whole points, upwards: waiting is a whole number.
fn round_up(scaled: i64) -> i64 {
    -(-scaled).div_euclid(SCALE)
}

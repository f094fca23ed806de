//! The search that learns from conflicts.
//!
//! Starts, ends, modes and orders are integer variables of which only bounds are kept. Every consequence that is drawn has
//! a reason; when a choice leads into a contradiction, the reasons give a clause over bounds that forbids its cause for ever
//! (lazy clause generation). The goals are variables as well, and "better than the best plan" is an assumption, so that
//! whatever is learned stays true for every goal and every bound.

mod analysis;
mod apart;
mod build;
mod clauses;
mod crew;
mod cumulative;
mod disjunctive;
mod dive;
mod edges;
mod engine;
mod floor;
mod gaps;
mod heap;
mod hot;
mod literal;
mod model;
mod path_cost;
mod propagator;
mod room;
mod search;
mod sum;
mod surrogate;
mod trail;

use crate::assignment::{Assignment, Work};
use crate::board::Board;
use crate::instance::{Instance, Span};
use crate::price::{Frame, ReducedCosts, frames};
use dive::Dives;
use engine::Engine;
use literal::Lit;
use model::Model;
use search::{Memory, Stretch, Style};
use surrogate::SurrogateBound;
use trail::{Bounds, Reason};

/// All of the gap, and half of it.
const WHOLE: i64 = 64;
const HALF: i64 = WHOLE / 2;

/// The engine that learns.
pub(crate) struct Learner<'i> {
    engine: Engine<'i>,
    model: Model,
    memory: Memory,
    restarts: u64,
    /// Clauses kept before the weaker half of them is forgotten.
    room: usize,
    /// The best plan's waiting, and its bound, when windows were last taken in.
    narrowed_at: Option<[i64; 2]>,
    /// The rule that knows the prices.
    prices: Option<u32>,
    dives: Dives,
    /// How much of the gap between bound and best plan the next attempt leaves, in 64ths.
    share: i64,
    /// The goal worked on last.
    goal: usize,
}

impl<'i> Learner<'i> {
    pub(crate) fn new(instance: &'i Instance<'_>) -> Self {
        let (engine, model) = build::build(instance);
        Learner {
            engine,
            model,
            memory: Memory::default(),
            restarts: 0,
            room: 4000,
            share: HALF,
            narrowed_at: None,
            prices: None,
            dives: Dives::new(instance),
            goal: 0,
        }
    }

    /// Who does what in a plan, and when its floating touches are begun; none if that cannot be, or is not found in so many
    /// conflicts. What is learned on the way is kept.
    pub(crate) fn complete(&mut self, plan: &Assignment, instance: &Instance<'_>, conflicts: u64) -> Option<Work> {
        let held: Vec<Lit> = (0..plan.steps.len()).flat_map(|step| self.model.hold(step, plan.steps[step])).collect();
        self.engine.back_to(0);
        let style = Style::Active;
        let end = self.engine.search(&self.model, &mut self.memory, &held, style, conflicts, &mut || true);
        let work = (end == Stretch::Found).then(|| self.model.read_work(&self.engine.trail, instance, plan));
        self.engine.back_to(0);
        self.restart();
        work
    }

    /// Takes in what prices say of plans as good as the best one in lateness and waiting, for each vector of servings that
    /// they can have. Lateness must be proved: from now on the engine knows of such plans only, and nothing
    /// it learns carries an exception for others.
    pub(crate) fn narrow(&mut self, board: &Board<'_, '_, '_>, mut reduced_costs: Vec<ReducedCosts>) {
        let Some((cost, _)) = board.incumbent() else { return };
        self.narrowed_at = Some([cost[1], board.bounds()[1]]);
        // Plans found before may lie outside.
        #[cfg(feature = "audit")]
        self.memory.found.clear();
        let mut facts = vec![self.at_most(0, cost[0]), self.at_most(1, cost[1])];
        facts.extend(self.windows(&frames(board.instance, &reduced_costs, cost[1])));
        self.engine.back_to(0);
        for fact in facts {
            if self.engine.trail.set(fact, Reason::Chosen).is_err() {
                self.engine.refuted = true;
            }
        }
        // With several vectors of servings a rule for each would have to wait until the servings are settled.
        if reduced_costs.len() == 1
            && let Some(reduced_costs) = reduced_costs.pop()
        {
            let rule = Box::new(SurrogateBound::new(reduced_costs, &self.model));
            match self.prices {
                Some(id) => self.engine.replace(id, rule),
                None => self.prices = Some(self.engine.add(rule)),
            }
        }
    }

    /// Whether more has become known of waiting since windows were last taken in.
    pub(crate) fn may_narrow(&self, board: &Board<'_, '_, '_>) -> bool {
        let known = board.incumbent().map(|(cost, _)| [cost[1], board.bounds()[1]]);
        known.is_some() && known != self.narrowed_at
    }

    /// Works on a goal (0 lateness, 1 waiting, 2 hot minutes), the goals before it held at the best plan's values, until the
    /// board's slice or limit is used up or the goal is proved.
    pub(crate) fn run(&mut self, board: &mut Board<'_, '_, '_>, goal: usize) {
        if self.goal != goal {
            // What was too ambitious for one goal says nothing of another.
            (self.goal, self.share, self.restarts) = (goal, HALF, 0);
        }
        self.tell_root(board, goal);
        while !board.proved(goal) && !board.is_refuted() {
            let Some(mut assumptions) = self.assumptions(board, goal) else { return };
            let style = if goal == 0 && self.restarts.is_multiple_of(4) { Style::Earliest } else { Style::Active };
            self.aim(board);
            let dives = goal == 1 && !board.is_nearly_proved(goal) && self.dives.is_due();
            let mut conflicts = 100 * luby(self.restarts + 1);
            if let Some((cost, plan)) = board.incumbent().filter(|_| dives) {
                conflicts = dive::CONFLICTS;
                assumptions[goal] = self.at_most(goal, cost[goal] - 1);
                assumptions.extend(self.dives.hold(&self.model, plan));
            }
            let spend = &mut || board.spend(1);
            let end = self.engine.search(&self.model, &mut self.memory, &assumptions, style, conflicts, spend);
            if end == Stretch::Found {
                let plan = self.model.read(&self.engine.trail, board.instance);
                self.keep_target();
                self.engine.back_to(0);
                if !board.offer(plan) {
                    return;
                }
                self.share = HALF;
                continue;
            }
            self.engine.back_to(0);
            match end {
                Stretch::Impossible => {
                    board.refute();
                    return;
                }
                Stretch::Refuted { assumption } if assumption == goal => {
                    // "At most" fails; its opposite is the bound.
                    let Lit { at_least, .. } = assumptions[goal].opposite();
                    let total = self.model.goals[goal];
                    board.raise(goal, (i64::from(at_least) + i64::from(total.total.plus)) * total.unit);
                }
                Stretch::Refuted { assumption } if assumption > goal => self.dives.learn(true),
                Stretch::Refuted { .. } | Stretch::Stopped => return,
                Stretch::Restart | Stretch::Found => {
                    if dives {
                        self.dives.learn(false);
                    } else {
                        // Too ambitious: ask for less.
                        self.share = (self.share + WHOLE + 1) / 2;
                    }
                    self.restart();
                }
            }
        }
    }

    /// What is known without any assumption holds for all plans the engine knows of.
    fn tell_root(&mut self, board: &mut Board<'_, '_, '_>, goal: usize) {
        self.engine.back_to(0);
        if !self.engine.refuted && self.engine.propagate().is_ok() {
            let total = self.model.goals[goal];
            board.raise(goal, i64::from(self.engine.trail.least(total.total)) * total.unit);
        } else {
            self.engine.refuted = true;
        }
    }

    /// What is assumed while working on a goal: earlier goals as good as in the best plan, this one better.
    fn assumptions(&self, board: &Board<'_, '_, '_>, goal: usize) -> Option<Vec<Lit>> {
        let Some((cost, _)) = board.incumbent() else { return (goal == 0).then(Vec::new) };
        let mut assumptions: Vec<Lit> = (0..goal).map(|goal| self.at_most(goal, cost[goal])).collect();
        // Half way between bound and best plan, if that can be had or refuted soon.
        let bound = board.bounds()[goal];
        let leap = (cost[goal] - 1 - bound) * self.share / WHOLE;
        assumptions.push(self.at_most(goal, bound + leap));
        Some(assumptions)
    }

    /// "This goal is at most so much."
    fn at_most(&self, goal: usize, value: i64) -> Lit {
        let total = self.model.goals[goal];
        total.total.at_most((value / total.unit).clamp(-1, i64::from(i32::MAX / 2)) as i32)
    }

    /// Windows as literals.
    fn windows(&self, frames: &[Vec<Option<Frame>>]) -> Vec<Lit> {
        let mut lits = Vec::new();
        for (vars, frames) in self.model.steps.iter().zip(frames) {
            for (mode, frame) in vars.modes.iter().zip(frames) {
                if frame.is_none() {
                    lits.push(mode.opposite());
                }
            }
            let open = || frames.iter().flatten();
            let hull = |expr: literal::Expr, span: fn(&Frame) -> Span| {
                let (lo, hi) = (open().map(|f| span(f).lo).min(), open().map(|f| span(f).hi).max());
                [lo.map(|lo| expr.at_least(lo)), hi.map(|hi| expr.at_most(hi))]
            };
            lits.extend(hull(vars.start, |frame| frame.start).into_iter().flatten());
            lits.extend(hull(vars.end, |frame| frame.end).into_iter().flatten());
        }
        lits
    }

    fn restart(&mut self) {
        self.restarts += 1;
        let full = self.engine.clauses.learned() > self.room;
        if full {
            self.room += self.room / 10;
        }
        if full || self.restarts.is_multiple_of(16) {
            if self.engine.propagate().is_err() {
                self.engine.refuted = true;
            } else {
                self.engine.clean(full);
            }
        }
    }

    /// Remembers the values of all variables in the plan just found.
    fn keep_target(&mut self) {
        let trail = &self.engine.trail;
        self.memory.target = (0..trail.sides() / 2).map(|variable| trail.lo(2 * variable as u32)).collect();
        #[cfg(feature = "audit")]
        self.memory.found.push(self.memory.target.clone());
    }

    /// Takes the board's best plan for a target if it came from elsewhere.
    fn aim(&mut self, board: &Board<'_, '_, '_>) {
        let Some((_, best)) = board.incumbent() else { return };
        let variables = self.engine.trail.sides() / 2;
        self.memory.target.resize(variables, i32::MIN);
        let target = &mut self.memory.target;
        self.model.tell(best, |expr, value| {
            let value = value - expr.plus;
            let value = if expr.side % 2 == 0 { value } else { -value };
            target[(expr.side / 2) as usize] = value;
        });
        let value = |expr: literal::Expr, target: &[i32]| target[(expr.side / 2) as usize] + expr.plus;
        for order in &self.model.orders {
            let comes_first = value(order.first, target) <= value(order.second, target);
            target[(order.yes.side / 2) as usize] = i32::from(comes_first);
        }
    }
}

/// 1, 1, 2, 1, 1, 2, 4, ...
fn luby(mut index: u64) -> u64 {
    loop {
        let size = (index + 1).next_power_of_two();
        if index + 1 == size {
            return size / 2;
        }
        index -= size / 2 - 1;
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn restarts_follow_the_known_sequence() {
        let sequence: Vec<u64> = (1..=15).map(super::luby).collect();
        assert_eq!(sequence, [1, 1, 2, 1, 1, 2, 4, 1, 1, 2, 1, 1, 2, 4, 8]);
    }
}

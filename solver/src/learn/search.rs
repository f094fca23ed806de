//! Choosing, propagating, learning, starting over.

use super::engine::Engine;
use super::literal::{Expr, Lit, Side};
use super::model::Model;
use super::trail::{Bounds, Reason};

/// How a stretch of search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stretch {
    /// Everything is decided, and nothing speaks against it. The trail still holds it.
    Found,
    /// No plan satisfies the assumption with this index together with those before it.
    Refuted { assumption: usize },
    /// The model itself has no plan.
    Impossible,
    /// The conflicts allowed are used up.
    Restart,
    /// There is no more work to spend.
    Stopped,
}

/// How variables are chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Style {
    /// What can start first is put first, as early as possible.
    Earliest,
    /// What took part in recent conflicts first, at the value it has in the best plan.
    Active,
}

/// Search state that outlives a restart.
#[derive(Default)]
pub(super) struct Memory {
    /// The value each variable has in the best plan; `i32::MIN` if there is none.
    pub(super) target: Vec<i32>,
    pub(super) conflicts: u64,
    pub(super) decisions: u64,
    /// Plans found, as values of all variables: nothing that is learned may forbid one.
    #[cfg(feature = "audit")]
    pub(super) found: Vec<Vec<i32>>,
}

impl Memory {
    /// Whether a clause allows all plans found so far.
    #[cfg(feature = "audit")]
    fn allows(&self, lits: &[Lit]) -> bool {
        let holds = |values: &[i32], lit: &Lit| {
            let value = values.get((lit.side / 2) as usize);
            // A variable that came later was not asked then.
            value.is_none_or(|&value| (if lit.side.is_multiple_of(2) { value } else { -value }) >= lit.at_least)
        };
        self.found.iter().all(|values| lits.iter().any(|lit| holds(values, lit)))
    }
}

impl Engine<'_> {
    /// Searches under assumptions until something is known or `conflicts` are used up.
    pub(super) fn search(
        &mut self,
        model: &Model,
        memory: &mut Memory,
        assumptions: &[Lit],
        style: Style,
        conflicts: u64,
        spend: &mut dyn FnMut() -> bool,
    ) -> Stretch {
        let mut left = conflicts;
        loop {
            if self.refuted {
                return Stretch::Impossible;
            }
            if let Err(conflict) = self.propagate() {
                memory.conflicts += 1;
                let Some(learned) = self.analyse(conflict) else {
                    self.refuted = true;
                    return Stretch::Impossible;
                };
                #[cfg(feature = "audit")]
                assert!(memory.allows(&learned.lits), "a plan is forbidden by {:?}", learned.lits);
                self.back_to(learned.level);
                self.learn(&learned.lits, learned.levels);
                left = left.saturating_sub(1);
                if !spend() {
                    return Stretch::Stopped;
                }
                continue;
            }
            if left == 0 {
                return Stretch::Restart;
            }
            let next = match assumptions.get(self.trail.level() as usize) {
                Some(&assumption) if self.trail.fails(assumption) => {
                    return Stretch::Refuted { assumption: self.trail.level() as usize };
                }
                Some(&assumption) => assumption,
                None if self.is_complete() => return Stretch::Found,
                // Asked first: a variable taken from the heap has to be decided, or it would be missing from then on.
                None if !spend() => return Stretch::Stopped,
                None => {
                    memory.decisions += 1;
                    self.choose(model, memory, style)
                }
            };
            self.trail.new_level();
            // The literal is open, or an assumption that holds already.
            if self.trail.set(next, Reason::Chosen).is_err() {
                return Stretch::Restart;
            }
        }
    }

    fn learn(&mut self, lits: &[Lit], levels: u32) {
        let reason = if lits.len() > 1 { Reason::Clause(self.clauses.add(lits, levels)) } else { Reason::Chosen };
        if self.trail.set(lits[0], reason).is_err() {
            // Only possible at the root.
            self.refuted = true;
        }
        self.heap.decay(0.95);
        self.clauses.decay();
    }

    /// Whether all that makes up a plan is decided. Then no order can be violated any more, whichever way it is read.
    fn is_complete(&mut self) -> bool {
        while self.core.get(self.core_done).is_some_and(|&variable| self.is_fixed(variable)) {
            self.core_done += 1;
        }
        self.core_done == self.core.len()
    }

    /// The next choice, while the plan is not complete.
    fn choose(&mut self, model: &Model, memory: &Memory, style: Style) -> Lit {
        let open = self.core[self.core_done];
        if style == Style::Earliest {
            return self.choose_earliest(model).unwrap_or_else(|| self.at_target(open, memory));
        }
        while let Some(variable) = self.heap.pop() {
            if self.is_fixed(variable) {
                continue;
            }
            let lit = self.at_target(variable, memory);
            // The choice may leave several values.
            let side = 2 * variable as Side;
            if self.trail.lo(side) + 1 < -self.trail.lo(side ^ 1) {
                self.heap.insert(variable);
            }
            return lit;
        }
        self.at_target(open, memory)
    }

    /// Moves a variable towards its value in the best plan, or else to its least value.
    fn at_target(&self, variable: u32, memory: &Memory) -> Lit {
        let expr = Expr { side: 2 * variable as Side, plus: 0 };
        let (least, most) = (self.trail.least(expr), self.trail.most(expr));
        let target = memory.target.get(variable as usize).copied().filter(|&target| target != i32::MIN);
        let last = self.last_value[variable as usize];
        let is_binary = most - least == 1;
        match target {
            Some(target) if target <= least => expr.at_most(least),
            Some(target) if target >= most => expr.at_least(most),
            Some(target) => expr.at_least(target),
            None if is_binary && last == most => expr.at_least(most),
            None => expr.at_most(least),
        }
    }

    /// The step that can start first, as early as it can; its mode before.
    fn choose_earliest(&self, model: &Model) -> Option<Lit> {
        let trail = &self.trail;
        let open = model.steps.iter().filter(|vars| {
            !trail.is_fixed(vars.start.side)
                || !trail.is_fixed(vars.end.side)
                || vars.modes.iter().any(|&mode| trail.is_open(mode))
        });
        let first = open.min_by_key(|vars| (trail.least(vars.start), trail.most(vars.start)))?;
        let modes = first.modes.iter().zip(&first.minutes).filter(|(mode, _)| trail.is_open(**mode));
        if let Some((&mode, _)) = modes.min_by_key(|&(_, minutes)| minutes) {
            return Some(mode);
        }
        let expr = if trail.is_fixed(first.start.side) { first.end } else { first.start };
        Some(expr.at_most(trail.least(expr)))
    }
}

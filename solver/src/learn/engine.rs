//! Propagation to a standstill: clauses and differences at once, larger rules in turn.

use std::collections::VecDeque;

use super::clauses::Clauses;
use super::edges::Edges;
use super::gaps::Gaps;
use super::heap::Heap;
use super::literal::{Expr, Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Past, Reason, Trail};

const RANKS: usize = 3;

/// The rules, the bounds, and what was learned.
pub(super) struct Engine<'i> {
    pub(super) trail: Trail,
    pub(super) clauses: Clauses,
    pub(super) edges: Edges,
    pub(super) gaps: Gaps,
    pub(super) heap: Heap,
    propagators: Vec<Box<dyn Propagator + 'i>>,
    /// Propagators by the sides that wake them.
    sleepers: Vec<Vec<u32>>,
    awake: [VecDeque<u32>; RANKS],
    is_awake: Vec<bool>,
    /// Entries of the trail that have been looked at.
    done: usize,
    /// The model contradicts itself: there is nothing to find.
    pub(super) refuted: bool,
    pub(super) scratch: super::analysis::Scratch,
    /// The value each variable had last.
    pub(super) last_value: Vec<i32>,
    /// Variables that are decided upon.
    pub(super) to_decide: Vec<bool>,
    /// Those of them that make up a plan: the others only say in which order things come.
    pub(super) core: Vec<u32>,
    /// The first so many of the core are fixed.
    pub(super) core_done: usize,
}

impl<'i> Engine<'i> {
    pub(super) fn new() -> Self {
        let mut engine = Engine {
            trail: Trail::new(),
            clauses: Clauses::new(),
            edges: Edges::default(),
            gaps: Gaps::default(),
            heap: Heap::new(),
            propagators: Vec::new(),
            sleepers: Vec::new(),
            awake: Default::default(),
            is_awake: Vec::new(),
            done: 0,
            refuted: false,
            scratch: super::analysis::Scratch::default(),
            last_value: Vec::new(),
            to_decide: Vec::new(),
            core: Vec::new(),
            core_done: 0,
        };
        engine.grow();
        engine
    }

    fn grow(&mut self) {
        let sides = self.trail.sides();
        self.clauses.grow(sides);
        self.edges.grow(sides);
        self.gaps.grow(sides);
        self.heap.grow(sides / 2);
        self.sleepers.resize_with(sides, Vec::new);
        self.last_value.resize(sides / 2, i32::MIN);
        self.to_decide.resize(sides / 2, false);
    }

    /// A new variable that only follows from others.
    pub(super) fn variable(&mut self, lo: i32, hi: i32) -> Expr {
        self.refuted |= lo > hi;
        let expr = self.trail.variable(lo, hi.max(lo));
        self.grow();
        expr
    }

    /// A new variable that a plan is made of.
    pub(super) fn decision(&mut self, lo: i32, hi: i32) -> Expr {
        let expr = self.variable(lo, hi);
        self.to_decide[(expr.side / 2) as usize] = true;
        self.heap.insert(expr.side / 2);
        self.core.push(expr.side / 2);
        expr
    }

    /// A new variable that a plan is made of, and that is decided upon once all others are.
    pub(super) fn late_decision(&mut self, lo: i32, hi: i32) -> Expr {
        let expr = self.variable(lo, hi);
        self.core.push(expr.side / 2);
        expr
    }

    /// A new literal that is decided upon, although every plan settles it.
    pub(super) fn order(&mut self) -> Lit {
        let expr = self.variable(0, 1);
        self.to_decide[(expr.side / 2) as usize] = true;
        self.heap.insert(expr.side / 2);
        expr.at_least(1)
    }

    /// `to >= from + weight` whenever all conditions hold.
    pub(super) fn difference(&mut self, from: Expr, to: Expr, weight: i32, conditions: &[Lit]) {
        if from.side != to.side && from.side != 0 && to.side != 0 {
            return self.edges.add(from, to, weight, conditions);
        }
        let mut clause: Vec<Lit> = conditions.iter().map(|condition| condition.opposite()).collect();
        if from.side == to.side {
            if from.plus + weight <= to.plus {
                return;
            }
        } else if from.side == 0 {
            clause.push(to.at_least(from.plus + weight));
        } else {
            clause.push(from.at_most(to.plus - weight));
        }
        self.clause(&clause);
    }

    /// At least one of the literals holds. Only at the root.
    pub(super) fn clause(&mut self, lits: &[Lit]) {
        let mut lits: Vec<Lit> = lits.iter().copied().filter(|&lit| !self.trail.fails(lit)).collect();
        // Of two literals on one side the weaker says it all.
        lits.sort_unstable();
        lits.dedup_by_key(|lit| lit.side);
        if lits.iter().any(|&lit| self.trail.holds(lit)) {
            return;
        }
        match lits[..] {
            [] => self.refuted = true,
            [lit] => self.refuted |= self.trail.set(lit, Reason::Chosen).is_err(),
            _ => {
                self.clauses.add(&lits, 0);
            }
        }
    }

    /// Puts a rule in the place of another that looks at the same variables. Only at the root.
    pub(super) fn replace(&mut self, id: u32, propagator: Box<dyn Propagator + 'i>) {
        if !std::mem::replace(&mut self.is_awake[id as usize], true) {
            self.awake[propagator.rank()].push_back(id);
        }
        self.propagators[id as usize] = propagator;
    }

    /// Adds a rule, and tells its number.
    pub(super) fn add(&mut self, propagator: Box<dyn Propagator + 'i>) -> u32 {
        let id = self.propagators.len() as u32;
        for side in propagator.sides() {
            let sleepers = &mut self.sleepers[side as usize];
            if side > 1 && sleepers.last() != Some(&id) {
                sleepers.push(id);
            }
        }
        self.awake[propagator.rank()].push_back(id);
        self.is_awake.push(true);
        self.propagators.push(propagator);
        id
    }

    /// The first propagation at the root, once the model is complete.
    pub(super) fn start(&mut self) {
        let edges = self.edges.propagate_all(&mut self.trail);
        let gaps = edges.and_then(|()| self.gaps.propagate_all(&mut self.trail));
        self.refuted |= gaps.and_then(|()| self.propagate()).is_err();
    }

    /// Draws all consequences.
    pub(super) fn propagate(&mut self) -> Result<(), Conflict> {
        loop {
            while self.done < self.trail.entries.len() {
                let entry = self.trail.entries[self.done];
                self.done += 1;
                for &id in &self.sleepers[entry.side as usize] {
                    if !self.is_awake[id as usize] {
                        self.is_awake[id as usize] = true;
                        self.awake[self.propagators[id as usize].rank()].push_back(id);
                    }
                }
                let trail = &mut self.trail;
                self.clauses.propagate(trail, entry.side, entry.old, entry.new)?;
                self.edges.propagate(trail, entry.side, entry.old, entry.new)?;
                self.gaps.propagate(trail, entry.side)?;
            }
            let Some(id) = self.awake.iter_mut().find_map(VecDeque::pop_front) else { return Ok(()) };
            self.is_awake[id as usize] = false;
            self.propagators[id as usize].propagate(&mut self.trail, id)?;
        }
    }

    /// Forgets all levels above `level`.
    pub(super) fn back_to(&mut self, level: u32) {
        let Engine { trail, heap, last_value, to_decide, .. } = self;
        trail.back_to(level, |entry| {
            let variable = (entry.side / 2) as usize;
            last_value[variable] = if entry.side % 2 == 0 { entry.new } else { -entry.new };
            if to_decide[variable] {
                heap.insert(entry.side / 2);
            }
        });
        self.done = self.done.min(self.trail.entries.len());
        self.core_done = 0;
        for queue in &mut self.awake {
            for id in queue.drain(..) {
                self.is_awake[id as usize] = false;
            }
        }
    }

    /// Facts that imply `lit`, which the entry at `at` (or the clash that would be there) made true for `reason`.
    pub(super) fn explain(&self, lit: Lit, reason: Reason, at: usize, why: &mut Vec<Lit>) {
        match reason {
            Reason::Chosen => {}
            Reason::Clause(clause) => {
                let lits = self.clauses.lits(clause).iter();
                why.extend(lits.filter(|other| other.side != lit.side).map(|other| other.opposite()));
            }
            Reason::Edge(edge) => self.edges.explain(edge, lit.at_least, why),
            Reason::Triple(triple) => self.gaps.explain(&self.trail, triple, lit, at, why),
            Reason::Rule { rule, what } => {
                let past = Past { trail: &self.trail, entry: at };
                self.propagators[rule as usize].explain(&past, lit, what, why);
            }
            Reason::Note { start, len } => why.extend_from_slice(self.trail.noted(start, len)),
        }
    }

    /// At the root: drops clauses that always hold, and (`halve`) the less useful half of what was learned.
    pub(super) fn clean(&mut self, halve: bool) {
        self.clauses.clean(&self.trail, halve);
        // Clauses have moved: no entry may name one any more. Nobody asks why something holds at the root.
        for entry in &mut self.trail.entries {
            entry.reason = Reason::Chosen;
        }
    }

    pub(super) fn is_fixed(&self, variable: u32) -> bool {
        self.trail.is_fixed(2 * variable as Side)
    }
}

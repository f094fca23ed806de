//! What a conflict teaches: the first unique implication point, made as short as possible.

use super::engine::Engine;
use super::literal::Lit;
use super::trail::{Bounds, Conflict, Reason};

/// Working memory of the analysis.
#[derive(Default)]
pub(super) struct Scratch {
    /// For each entry of the trail the bound that is needed of it; `i32::MIN` if nothing is.
    needed: Vec<i32>,
    /// Entries that were marked.
    marked: Vec<usize>,
    /// For each entry the greatest bound known to follow from the rest of what is learned, and the least known not to.
    follows: Vec<i32>,
    stands: Vec<i32>,
    tried: Vec<usize>,
}

/// The outcome of an analysis.
pub(super) struct Learned {
    /// The first literal becomes true after going back to `level`; the second is false at that level.
    pub(super) lits: Vec<Lit>,
    pub(super) level: u32,
    /// How many levels the literals come from.
    pub(super) levels: u32,
}

const UNNEEDED: i32 = i32::MIN;
const DEPTH: usize = 60;

impl Engine<'_> {
    /// Learns from a conflict; none if it does not depend on any choice.
    pub(super) fn analyse(&mut self, conflict: Conflict) -> Option<Learned> {
        let mut facts = Vec::new();
        let end = self.trail.entries.len();
        match conflict {
            Conflict::Clash(lit, reason) => {
                self.explain(lit, reason, end, &mut facts);
                facts.push(lit.opposite());
                self.bump_reason(reason);
            }
            Conflict::Facts(reason) => self.explain(Lit::TRUE, reason, end, &mut facts),
        }
        debug_assert!(facts.iter().all(|&fact| self.trail.holds(fact)), "a conflict must hold");
        self.scratch.needed.resize(end, UNNEEDED);
        self.scratch.follows.resize(end, i32::MIN);
        self.scratch.stands.resize(end, i32::MAX);
        let level =
            facts.iter().filter_map(|&fact| self.trail.cause(fact)).map(|at| self.trail.entries[at].level).max();
        let level = level.filter(|&level| level > 0)?;
        let mut open = 0;
        facts.iter().for_each(|&fact| self.mark(fact, level, &mut open));
        let mut at = end;
        let first = loop {
            at -= 1;
            let needed = self.scratch.needed[at];
            if needed == UNNEEDED || self.trail.entries[at].level != level {
                continue;
            }
            let entry = self.trail.entries[at];
            let lit = Lit { side: entry.side, at_least: needed };
            if open == 1 {
                break lit;
            }
            open -= 1;
            self.scratch.needed[at] = UNNEEDED;
            facts.clear();
            self.explain(lit, entry.reason, at, &mut facts);
            self.bump_reason(entry.reason);
            facts.iter().for_each(|&fact| self.mark(fact, level, &mut open));
        };
        let learned = self.shorten(first, at);
        for at in std::mem::take(&mut self.scratch.marked) {
            self.scratch.needed[at] = UNNEEDED;
        }
        for at in std::mem::take(&mut self.scratch.tried) {
            self.scratch.follows[at] = i32::MIN;
            self.scratch.stands[at] = i32::MAX;
        }
        Some(learned)
    }

    fn mark(&mut self, fact: Lit, level: u32, open: &mut usize) {
        let Some(at) = self.trail.cause(fact) else { return };
        let entry = &self.trail.entries[at];
        if entry.level == 0 {
            return;
        }
        let needed = &mut self.scratch.needed[at];
        if *needed == UNNEEDED {
            *open += usize::from(entry.level == level);
            self.scratch.marked.push(at);
            self.heap.bump(entry.side / 2);
        }
        *needed = (*needed).max(fact.at_least);
    }

    fn bump_reason(&mut self, reason: Reason) {
        if let Reason::Clause(clause) = reason {
            self.clauses.bump(clause);
        }
    }

    /// Drops what follows from the rest, and puts the literals in order.
    fn shorten(&mut self, first: Lit, first_at: usize) -> Learned {
        let mut rest: Vec<usize> = self
            .scratch
            .marked
            .iter()
            .copied()
            .filter(|&at| at != first_at && self.scratch.needed[at] != UNNEEDED)
            .collect();
        rest.sort_unstable();
        rest.dedup();
        // A later entry of the same side says more. It must not in turn lean on what it replaces: that is unmarked.
        let mut last_of_side: Vec<(u32, usize)> = rest.iter().map(|&at| (self.trail.entries[at].side, at)).collect();
        last_of_side.push((first.side, first_at));
        last_of_side.sort_unstable();
        for pair in last_of_side.windows(2) {
            if pair[0].0 == pair[1].0 {
                self.scratch.needed[pair[0].1] = UNNEEDED;
            }
        }
        rest.retain(|&at| self.scratch.needed[at] != UNNEEDED);
        let mut kept: Vec<(u32, Lit)> = Vec::new();
        for &at in &rest {
            let entry = self.trail.entries[at];
            let lit = Lit { side: entry.side, at_least: self.scratch.needed[at] };
            if !self.is_implied(at, lit.at_least, 0, false) {
                kept.push((entry.level, lit));
            }
        }
        if let Some(highest) = (0..kept.len()).max_by_key(|&index| kept[index].0) {
            kept.swap(0, highest);
        }
        let level = kept.first().map_or(0, |&(level, _)| level);
        let mut levels: Vec<u32> = kept.iter().map(|&(level, _)| level).collect();
        levels.sort_unstable();
        levels.dedup();
        let mut lits = vec![first.opposite()];
        lits.extend(kept.iter().map(|(_, lit)| lit.opposite()));
        Learned { lits, level, levels: levels.len() as u32 + 1 }
    }

    /// Whether the bound of an entry follows from the other marked ones. `itself`: being marked is enough.
    fn is_implied(&mut self, at: usize, bound: i32, depth: usize, itself: bool) -> bool {
        let scratch = &self.scratch;
        if itself && scratch.needed[at] >= bound || scratch.follows[at] >= bound {
            return true;
        }
        let entry = self.trail.entries[at];
        if scratch.stands[at] <= bound || depth > DEPTH || entry.reason == Reason::Chosen {
            return false;
        }
        let mut why = Vec::new();
        self.explain(Lit { side: entry.side, at_least: bound }, entry.reason, at, &mut why);
        let implied = why.iter().all(|&fact| match self.trail.cause(fact) {
            Some(cause) if self.trail.entries[cause].level > 0 => {
                self.is_implied(cause, fact.at_least, depth + 1, true)
            }
            _ => true,
        });
        self.scratch.tried.push(at);
        if implied {
            self.scratch.follows[at] = self.scratch.follows[at].max(bound);
        } else {
            self.scratch.stands[at] = self.scratch.stands[at].min(bound);
        }
        implied
    }
}

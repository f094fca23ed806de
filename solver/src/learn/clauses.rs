//! Clauses over facts, watched by two literals each.

use super::literal::{Lit, Side};
use super::trail::{Bounds, Conflict, Reason, Trail};

/// Where a clause lies in the store.
#[derive(Clone, Copy, Debug)]
struct Clause {
    start: u32,
    len: u32,
    /// Number of levels its literals came from; 0 for a clause of the model, which is never deleted.
    levels: u32,
    activity: f32,
}

#[derive(Clone, Copy, Debug)]
struct Watch {
    clause: u32,
    /// If this one holds, there is nothing to do.
    other: Lit,
}

/// Watches that fire once a side reaches a threshold.
#[derive(Clone, Debug)]
struct Bucket {
    threshold: i32,
    watches: Vec<Watch>,
}

/// All clauses.
#[derive(Default)]
pub(super) struct Clauses {
    lits: Vec<Lit>,
    clauses: Vec<Clause>,
    /// For each side its buckets by threshold.
    watches: Vec<Vec<Bucket>>,
    learned: usize,
    step: f32,
}

impl Clauses {
    pub(super) fn new() -> Self {
        Clauses { step: 1.0, ..Clauses::default() }
    }

    pub(super) fn grow(&mut self, sides: usize) {
        self.watches.resize_with(sides, Vec::new);
    }

    pub(super) fn learned(&self) -> usize {
        self.learned
    }

    pub(super) fn lits(&self, clause: u32) -> &[Lit] {
        let Clause { start, len, .. } = self.clauses[clause as usize];
        &self.lits[start as usize..(start + len) as usize]
    }

    /// Takes in a clause of at least two literals; the first two are watched.
    pub(super) fn add(&mut self, lits: &[Lit], levels: u32) -> u32 {
        let id = self.clauses.len() as u32;
        let start = self.lits.len() as u32;
        self.lits.extend_from_slice(lits);
        self.clauses.push(Clause { start, len: lits.len() as u32, levels, activity: self.step });
        self.learned += usize::from(levels > 0);
        self.watch(lits[0], Watch { clause: id, other: lits[1] });
        self.watch(lits[1], Watch { clause: id, other: lits[0] });
        id
    }

    fn watch(&mut self, lit: Lit, watch: Watch) {
        let falsified = lit.opposite();
        let buckets = &mut self.watches[falsified.side as usize];
        let at = buckets.partition_point(|bucket| bucket.threshold < falsified.at_least);
        match buckets.get_mut(at) {
            Some(bucket) if bucket.threshold == falsified.at_least => bucket.watches.push(watch),
            _ => buckets.insert(at, Bucket { threshold: falsified.at_least, watches: vec![watch] }),
        }
    }

    /// Looks at all clauses that watch a literal which is false now that `side` has risen from `old` to `new`.
    pub(super) fn propagate(&mut self, trail: &mut Trail, side: Side, old: i32, new: i32) -> Result<(), Conflict> {
        let buckets = &self.watches[side as usize];
        let mut at = buckets.partition_point(|bucket| bucket.threshold <= old);
        // New buckets of this side lie behind `new`: their literals are not false.
        while self.watches[side as usize].get(at).is_some_and(|bucket| bucket.threshold <= new) {
            let threshold = self.watches[side as usize][at].threshold;
            let mut watches = std::mem::take(&mut self.watches[side as usize][at].watches);
            let falsified = Lit { side, at_least: threshold }.opposite();
            let mut outcome = Ok(());
            let mut kept = 0;
            for index in 0..watches.len() {
                let watch = watches[index];
                let (stays, result) =
                    if outcome.is_ok() { self.visit(trail, falsified, watch) } else { (Some(watch), Ok(())) };
                if let Some(watch) = stays {
                    watches[kept] = watch;
                    kept += 1;
                }
                if result.is_err() {
                    outcome = result;
                }
            }
            watches.truncate(kept);
            self.watches[side as usize][at].watches = watches;
            outcome?;
            at += 1;
        }
        Ok(())
    }

    /// Visits a clause one of whose watched literals is false. Returns the watch if it stays where it is.
    fn visit(&mut self, trail: &mut Trail, falsified: Lit, watch: Watch) -> (Option<Watch>, Result<(), Conflict>) {
        if trail.holds(watch.other) {
            return (Some(watch), Ok(()));
        }
        let Clause { start, len, .. } = self.clauses[watch.clause as usize];
        let lits = &mut self.lits[start as usize..(start + len) as usize];
        if lits[0] == falsified {
            lits.swap(0, 1);
        }
        let other = lits[0];
        if other != watch.other && trail.holds(other) {
            return (Some(Watch { other, ..watch }), Ok(()));
        }
        if let Some(free) = (2..lits.len()).find(|&index| !trail.fails(lits[index])) {
            lits.swap(1, free);
            let lit = lits[1];
            self.watch(lit, Watch { other, ..watch });
            return (None, Ok(()));
        }
        (Some(Watch { other, ..watch }), trail.set(other, Reason::Clause(watch.clause)))
    }

    pub(super) fn bump(&mut self, clause: u32) {
        let entry = &mut self.clauses[clause as usize];
        if entry.levels == 0 {
            return;
        }
        entry.activity += self.step;
        if entry.activity > 1e20 {
            for clause in &mut self.clauses {
                clause.activity *= 1e-20;
            }
            self.step *= 1e-20;
        }
    }

    pub(super) fn decay(&mut self) {
        self.step /= 0.999;
    }

    /// At the root: drops what always holds, shortens the rest, and (`halve`) forgets the less useful half of what was learned.
    pub(super) fn clean(&mut self, trail: &Trail, halve: bool) {
        let mut doomed = vec![false; self.clauses.len()];
        if halve {
            let mut weak: Vec<usize> = (0..self.clauses.len()).filter(|&id| self.clauses[id].levels > 2).collect();
            weak.sort_by(|&a, &b| {
                let (a, b) = (&self.clauses[a], &self.clauses[b]);
                b.levels.cmp(&a.levels).then(a.activity.total_cmp(&b.activity))
            });
            for &id in &weak[..weak.len() / 2] {
                doomed[id] = true;
            }
        }
        let old = std::mem::take(self);
        *self = Clauses { step: old.step, ..Clauses::default() };
        self.grow(old.watches.len());
        let mut kept: Vec<Lit> = Vec::new();
        for (id, clause) in old.clauses.iter().enumerate() {
            let lits = &old.lits[clause.start as usize..(clause.start + clause.len) as usize];
            if doomed[id] || lits.iter().any(|&lit| trail.holds(lit)) {
                continue;
            }
            kept.clear();
            kept.extend(lits.iter().filter(|&&lit| !trail.fails(lit)));
            // Propagation is complete at the root: no clause has fewer than two open literals.
            if kept.len() > 1 {
                let id = self.add(&kept, clause.levels);
                self.clauses[id as usize].activity = clause.activity;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_last_open_literal_is_set() {
        let mut trail = Trail::new();
        let [x, y, z] = [0; 3].map(|_| trail.variable(0, 9));
        let mut clauses = Clauses::new();
        clauses.grow(trail.sides());
        clauses.add(&[x.at_least(5), y.at_most(3), z.at_least(7)], 0);
        trail.new_level();
        let mut done = 0;
        for lit in [x.at_most(2), y.at_least(6)] {
            trail.set(lit, Reason::Chosen).expect("free");
            while done < trail.entries.len() {
                let entry = trail.entries[done];
                clauses.propagate(&mut trail, entry.side, entry.old, entry.new).expect("no conflict");
                done += 1;
            }
        }
        assert_eq!(trail.least(z), 7);
        assert_eq!(trail.entries[2].reason, Reason::Clause(0));
    }
}

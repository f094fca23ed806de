//! What is known at the moment, in the order in which it was found out, each with its reason.

use super::literal::{Expr, Lit, Side};

/// Marks the absence of an entry.
pub(super) const NONE: u32 = u32::MAX;

/// Why a bound changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reason {
    /// It was chosen, or it holds at the root.
    Chosen,
    /// All other literals of a clause are false.
    Clause(u32),
    /// An edge of the graph of differences.
    Edge(u32),
    /// A triple of [`Gaps`](super::gaps::Gaps).
    Triple(u32),
    /// A rule that can say afterwards why it made this change; `what` is its own remark.
    Rule { rule: u32, what: u32 },
    /// Facts written down when it happened.
    Note { start: u32, len: u32 },
}

/// Facts that cannot all hold.
#[derive(Clone, Copy, Debug)]
pub(super) enum Conflict {
    /// The reason demands the literal, and its opposite holds.
    Clash(Lit, Reason),
    /// All facts of a note (or the opposites of a clause) hold.
    Facts(Reason),
}

/// One change of a bound.
#[derive(Clone, Copy, Debug)]
pub(super) struct Entry {
    pub(super) side: Side,
    pub(super) old: i32,
    pub(super) new: i32,
    /// The entry that changed this side before.
    pub(super) before: u32,
    pub(super) level: u32,
    pub(super) reason: Reason,
}

/// Bounds at some moment: now, or earlier.
pub(super) trait Bounds {
    fn lo(&self, side: Side) -> i32;

    fn holds(&self, lit: Lit) -> bool {
        self.lo(lit.side) >= lit.at_least
    }

    /// The least value of an expression.
    fn least(&self, expr: Expr) -> i32 {
        self.lo(expr.side) + expr.plus
    }

    /// The greatest value of an expression.
    fn most(&self, expr: Expr) -> i32 {
        expr.plus - self.lo(expr.side ^ 1)
    }
}

/// The bounds just before an entry of the trail.
pub(super) struct Past<'t> {
    pub(super) trail: &'t Trail,
    pub(super) entry: usize,
}

impl Bounds for Past<'_> {
    fn lo(&self, side: Side) -> i32 {
        self.trail.lo_before(side, self.entry)
    }
}

impl Bounds for Trail {
    fn lo(&self, side: Side) -> i32 {
        self.lo[side as usize]
    }
}

/// Bounds of all variables, with their history.
#[derive(Default)]
pub(super) struct Trail {
    lo: Vec<i32>,
    /// The bounds at the root.
    root: Vec<i32>,
    last: Vec<u32>,
    pub(super) entries: Vec<Entry>,
    /// Per level: entries and notes before it.
    levels: Vec<(usize, usize)>,
    notes: Vec<Lit>,
}

impl Trail {
    /// A trail whose variable 0 is fixed to 0.
    pub(super) fn new() -> Self {
        let mut trail = Trail::default();
        trail.variable(0, 0);
        trail
    }

    pub(super) fn variable(&mut self, lo: i32, hi: i32) -> Expr {
        let side = self.lo.len() as Side;
        self.lo.extend([lo, -hi]);
        self.root.extend([lo, -hi]);
        self.last.extend([NONE, NONE]);
        Expr { side, plus: 0 }
    }

    pub(super) fn sides(&self) -> usize {
        self.lo.len()
    }

    pub(super) fn level(&self) -> u32 {
        self.levels.len() as u32
    }

    /// The bound of a side at the root.
    pub(super) fn root(&self, side: Side) -> i32 {
        self.root[side as usize]
    }

    pub(super) fn fails(&self, lit: Lit) -> bool {
        self.lo[(lit.side ^ 1) as usize] > -lit.at_least
    }

    pub(super) fn is_open(&self, lit: Lit) -> bool {
        !self.holds(lit) && !self.fails(lit)
    }

    pub(super) fn is_fixed(&self, side: Side) -> bool {
        self.lo[side as usize] == -self.lo[(side ^ 1) as usize]
    }

    /// Makes a literal hold. The reason must imply it from what holds now.
    pub(super) fn set(&mut self, lit: Lit, reason: Reason) -> Result<(), Conflict> {
        if self.holds(lit) {
            return Ok(());
        }
        if self.fails(lit) {
            // The weakest form of the literal that already clashes is the easiest to explain.
            let weakest = Lit { at_least: 1 - self.lo[(lit.side ^ 1) as usize], ..lit };
            return Err(Conflict::Clash(weakest, reason));
        }
        let side = lit.side as usize;
        let entry = Entry {
            side: lit.side,
            old: self.lo[side],
            new: lit.at_least,
            before: self.last[side],
            level: self.level(),
            reason,
        };
        self.last[side] = self.entries.len() as u32;
        self.lo[side] = lit.at_least;
        if self.levels.is_empty() {
            self.root[side] = lit.at_least;
        }
        self.entries.push(entry);
        Ok(())
    }

    /// Makes a literal hold because of the facts that `why` writes down; they are asked for only if needed.
    pub(super) fn set_because(&mut self, lit: Lit, why: impl FnOnce(&Self, &mut Vec<Lit>)) -> Result<(), Conflict> {
        if self.holds(lit) {
            return Ok(());
        }
        let reason = self.note(why);
        self.set(lit, reason)
    }

    /// The facts that `why` writes down hold, and cannot.
    pub(super) fn clash(&mut self, why: impl FnOnce(&Self, &mut Vec<Lit>)) -> Conflict {
        Conflict::Facts(self.note(why))
    }

    fn note(&mut self, why: impl FnOnce(&Self, &mut Vec<Lit>)) -> Reason {
        // Nobody asks for reasons of what holds at the root.
        if self.levels.is_empty() {
            return Reason::Chosen;
        }
        let mut notes = std::mem::take(&mut self.notes);
        let start = notes.len();
        why(self, &mut notes);
        debug_assert!(notes[start..].iter().all(|&lit| self.holds(lit)), "a reason must hold");
        let len = notes.len() - start;
        self.notes = notes;
        Reason::Note { start: start as u32, len: len as u32 }
    }

    pub(super) fn noted(&self, start: u32, len: u32) -> &[Lit] {
        &self.notes[start as usize..(start + len) as usize]
    }

    pub(super) fn new_level(&mut self) {
        self.levels.push((self.entries.len(), self.notes.len()));
    }

    /// Forgets all levels above `level`, telling each forgotten entry.
    pub(super) fn back_to(&mut self, level: u32, mut forgotten: impl FnMut(&Entry)) {
        if level >= self.level() {
            return;
        }
        let (entries, notes) = self.levels[level as usize];
        while self.entries.len() > entries {
            let Some(entry) = self.entries.pop() else { break };
            self.lo[entry.side as usize] = entry.old;
            self.last[entry.side as usize] = entry.before;
            forgotten(&entry);
        }
        self.notes.truncate(notes);
        self.levels.truncate(level as usize);
    }

    /// The entry that made a holding literal true; none if it held from the beginning.
    pub(super) fn cause(&self, lit: Lit) -> Option<usize> {
        let mut at = self.last[lit.side as usize];
        while at != NONE && self.entries[at as usize].old >= lit.at_least {
            at = self.entries[at as usize].before;
        }
        (at != NONE).then_some(at as usize)
    }

    /// The bound of a side just before an entry.
    pub(super) fn lo_before(&self, side: Side, entry: usize) -> i32 {
        let mut at = self.last[side as usize];
        let mut lo = self.lo[side as usize];
        while at != NONE && at as usize >= entry {
            lo = self.entries[at as usize].old;
            at = self.entries[at as usize].before;
        }
        lo
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn history_is_kept_and_forgotten() {
        let mut trail = Trail::new();
        let x = trail.variable(0, 9);
        trail.new_level();
        trail.set(x.at_least(3), Reason::Chosen).expect("free");
        trail.new_level();
        trail.set(x.at_least(5), Reason::Chosen).expect("free");
        assert_eq!(trail.cause(x.at_least(2)), Some(0));
        assert_eq!(trail.cause(x.at_least(4)), Some(1));
        assert_eq!(trail.cause(x.at_least(0)), None);
        assert_eq!(trail.lo_before(x.side, 1), 3);
        assert!(trail.set(x.at_most(4), Reason::Chosen).is_err());
        trail.back_to(1, |_| {});
        assert_eq!((trail.least(x), trail.most(x)), (3, 9));
        assert!(trail.is_open(x.at_least(4)) && trail.fails(x.at_most(2)));
    }
}

//! Sums of three: `p + q + r >= least`. A wait is an end less a start; a duration that hangs on the mode likewise.

use super::literal::{Expr, Lit, Side};
use super::trail::{Bounds, Conflict, Reason, Trail};

#[derive(Clone, Copy, Debug)]
struct Triple {
    sides: [Side; 3],
    least: i32,
}

/// All triples.
#[derive(Default)]
pub(super) struct Gaps {
    triples: Vec<Triple>,
    /// Triples by the opposite of each of their sides.
    watching: Vec<Vec<u32>>,
}

impl Gaps {
    pub(super) fn grow(&mut self, sides: usize) {
        self.watching.resize_with(sides, Vec::new);
    }

    /// `terms[0] + terms[1] + terms[2] >= least`.
    pub(super) fn add(&mut self, terms: [Expr; 3], least: i32) {
        let id = self.triples.len() as u32;
        let least = least - terms.iter().map(|term| term.plus).sum::<i32>();
        let sides = terms.map(|term| term.side);
        self.triples.push(Triple { sides, least });
        for side in sides {
            self.watching[(side ^ 1) as usize].push(id);
        }
    }

    pub(super) fn propagate_all(&self, trail: &mut Trail) -> Result<(), Conflict> {
        (0..self.triples.len()).try_for_each(|triple| self.check(trail, triple as u32))
    }

    pub(super) fn propagate(&self, trail: &mut Trail, side: Side) -> Result<(), Conflict> {
        self.watching[side as usize].iter().try_for_each(|&triple| self.check(trail, triple))
    }

    fn check(&self, trail: &mut Trail, id: u32) -> Result<(), Conflict> {
        let Triple { sides: [p, q, r], least } = self.triples[id as usize];
        for (side, a, b) in [(p, q, r), (q, p, r), (r, p, q)] {
            let at_least = least + trail.lo(a ^ 1) + trail.lo(b ^ 1);
            trail.set(Lit { side, at_least }, Reason::Triple(id))?;
        }
        Ok(())
    }

    /// Why a side of a triple reached a bound with the entry at this place of the trail.
    pub(super) fn explain(&self, trail: &Trail, triple: u32, lit: Lit, entry: usize, why: &mut Vec<Lit>) {
        let Triple { sides, least } = self.triples[triple as usize];
        let mut others = sides.iter().filter(|&&side| side != lit.side).map(|side| side ^ 1);
        let (Some(a), Some(b)) = (others.next(), others.next()) else { return };
        let first = Lit { side: a, at_least: trail.lo_before(a, entry) };
        why.push(first);
        why.push(Lit { side: b, at_least: lit.at_least - least - first.at_least });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sum_moves_its_parts() {
        let mut trail = Trail::new();
        let (start, end, wait) = (trail.variable(0, 50), trail.variable(0, 50), trail.variable(0, 5));
        let mut gaps = Gaps::default();
        gaps.grow(trail.sides());
        // wait >= start - end - 2
        gaps.add([wait, end, start.minus()], -2);
        trail.new_level();
        trail.set(start.at_least(30), Reason::Chosen).expect("free");
        gaps.propagate(&mut trail, start.side).expect("free");
        assert_eq!(trail.least(end), 23);
        let mut why = Vec::new();
        gaps.explain(&trail, 0, end.at_least(20), 1, &mut why);
        assert_eq!(why, [wait.at_most(5), start.at_least(27)]);
    }
}

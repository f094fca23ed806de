//! Minutes in which a step may not start, mode by mode.

use super::literal::{Expr, Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Trail};
use crate::instance::Time;

/// The rule for one step.
pub(super) struct Allowed {
    pub(super) start: Expr,
    /// For each mode its literal and the stretches `[from, to)` that are closed to it, in order and not touching.
    pub(super) closed: Vec<(Lit, Vec<(Time, Time)>)>,
    /// The rule binds only while this holds.
    pub(super) active: Lit,
}

/// The stretches of `[from, to]` in which no minute is allowed.
pub(super) fn stretches(from: Time, to: Time, allowed: impl Fn(Time) -> bool) -> Vec<(Time, Time)> {
    let mut closed: Vec<(Time, Time)> = Vec::new();
    for minute in (from..=to).filter(|&minute| !allowed(minute)) {
        match closed.last_mut() {
            Some(last) if last.1 == minute => last.1 += 1,
            _ => closed.push((minute, minute + 1)),
        }
    }
    closed
}

impl Propagator for Allowed {
    fn sides(&self) -> Vec<Side> {
        let mut sides = vec![self.start.side, self.start.side ^ 1, self.active.side];
        sides.extend(self.closed.iter().map(|(mode, _)| mode.side));
        sides
    }

    fn rank(&self) -> usize {
        0
    }

    fn propagate(&mut self, trail: &mut Trail, _: u32) -> Result<(), Conflict> {
        if !trail.holds(self.active) {
            return Ok(());
        }
        for &(mode, ref closed) in &self.closed {
            if trail.fails(mode) {
                continue;
            }
            let (least, most) = (trail.least(self.start), trail.most(self.start));
            let around = |minute: Time| closed.iter().copied().find(|&(from, to)| from <= minute && minute < to);
            let (first, last) = (around(least), around(most));
            if let Some((from, to)) = first {
                let facts = [self.active, self.start.at_least(from)];
                if trail.holds(mode) {
                    trail.set_because(self.start.at_least(to), |_, why| why.extend(facts.into_iter().chain([mode])))?;
                } else if most < to {
                    let late = self.start.at_most(to - 1);
                    trail.set_because(mode.opposite(), |_, why| why.extend(facts.into_iter().chain([late])))?;
                }
            }
            if let Some((from, to)) = last.filter(|_| trail.holds(mode)) {
                let facts = [self.active, mode, self.start.at_most(to - 1)];
                trail.set_because(self.start.at_most(from - 1), |_, why| why.extend(facts))?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learn::trail::Reason;

    #[test]
    fn starts_skip_closed_stretches() {
        let closed = stretches(0, 20, |minute| minute % 10 < 4 && minute != 20);
        assert_eq!(closed, [(4, 10), (14, 21)]);
        let mut trail = Trail::new();
        let (start, mode) = (trail.variable(0, 20), trail.variable(0, 1).at_least(1));
        let mut rule = Allowed { start, closed: vec![(mode, closed)], active: Lit::TRUE };
        trail.new_level();
        trail.set(start.at_least(5), Reason::Chosen).expect("free");
        rule.propagate(&mut trail, 0).expect("free");
        assert_eq!((trail.least(start), trail.most(start)), (5, 20), "the mode is not chosen yet");
        trail.set(mode, Reason::Chosen).expect("free");
        rule.propagate(&mut trail, 0).expect("free");
        assert_eq!((trail.least(start), trail.most(start)), (10, 13));
        trail.back_to(0, |_| {});
        trail.new_level();
        trail.set(start.at_least(15), Reason::Chosen).expect("free");
        rule.propagate(&mut trail, 0).expect("free");
        assert!(trail.fails(mode), "no minute is left for it");
    }
}

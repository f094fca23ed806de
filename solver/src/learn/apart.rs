//! Hot minutes of steps that may not be in an oven together: in one oven they follow each other, in two they add up.

use super::literal::{Expr, Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Trail};
use crate::instance::Time;

/// Steps that may be inside, and which may not be inside together. Every step, whatever its mode, and every mode of it has a
/// number: first the steps, then the modes.
pub(super) struct Apart {
    pub(super) steps: Vec<Inside>,
    /// For each two numbers the hot minutes between the two at least; none if they may share an oven.
    pub(super) gaps: Vec<Option<Time>>,
    /// At least the hot minutes, in units.
    pub(super) hot: Expr,
    pub(super) unit: i64,
}

/// A step that may be inside.
pub(super) struct Inside {
    pub(super) is_inside: Lit,
    /// Its least minutes inside.
    pub(super) least: Time,
    /// Its modes inside: a literal, the least minutes, and a number.
    pub(super) modes: Vec<(Lit, Time, usize)>,
}

/// A step that is inside for certain, as far as its mode is known.
struct Need {
    minutes: Time,
    number: usize,
    fact: Lit,
}

impl Apart {
    fn need(&self, trail: &Trail, number: usize) -> Option<Need> {
        let step = &self.steps[number];
        let chosen = step.modes.iter().find(|(mode, ..)| trail.holds(*mode));
        let chosen = chosen.map(|&(fact, minutes, number)| Need { minutes, number, fact });
        let inside = || Need { minutes: step.least, number, fact: step.is_inside };
        chosen.or_else(|| trail.holds(step.is_inside).then(inside))
    }

    /// Steps that are all apart, picked greedily by their minutes: how long they keep ovens hot, and why.
    fn clique(&self, trail: &Trail) -> (Time, Vec<Lit>) {
        let numbers = self.gaps.len().isqrt();
        let mut needs: Vec<Need> = (0..self.steps.len()).filter_map(|step| self.need(trail, step)).collect();
        needs.sort_unstable_by_key(|need| (std::cmp::Reverse(need.minutes), need.number));
        let mut picked: Vec<usize> = Vec::new();
        let mut facts = Vec::new();
        let (mut minutes, mut least) = (0, Time::MAX);
        for need in needs {
            let mut gaps = picked.iter().map(|&other| self.gaps[need.number * numbers + other]);
            let Some(gap) = gaps.try_fold(least, |least, gap| gap.map(|gap| least.min(gap))) else { continue };
            least = gap;
            minutes += need.minutes;
            picked.push(need.number);
            facts.push(need.fact);
        }
        // Between every two that follow each other lie at least the least minutes between any two.
        let between = if picked.len() > 1 { least * (picked.len() - 1) as Time } else { 0 };
        (minutes + between, facts)
    }
}

impl Propagator for Apart {
    fn sides(&self) -> Vec<Side> {
        let modes = |step: &Inside| step.modes.iter().map(|mode| mode.0.side).collect::<Vec<_>>();
        self.steps.iter().flat_map(|step| modes(step).into_iter().chain([step.is_inside.side])).collect()
    }

    fn rank(&self) -> usize {
        2
    }

    fn propagate(&mut self, trail: &mut Trail, _: u32) -> Result<(), Conflict> {
        let (minutes, facts) = self.clique(trail);
        let total = i64::from(minutes) / self.unit;
        trail.set_because(self.hot.at_least(total as i32), |_, why| why.extend(facts))
    }
}

#[cfg(test)]
mod tests {
    use super::super::trail::Reason;
    use super::*;

    #[test]
    fn steps_that_may_not_be_inside_together_follow_each_other() {
        let mut trail = Trail::new();
        let [first, second, third, quick, slow] = [0; 5].map(|_| trail.variable(0, 1).at_least(1));
        let hot = trail.variable(0, 500);
        let step = |is_inside, modes: Vec<(Lit, Time, usize)>| {
            let least = modes.iter().map(|mode| mode.1).min().expect("a mode");
            Inside { is_inside, least, modes }
        };
        // The second has a quick mode and a slow one, which needs more minutes of changeover; the third fits beside all.
        let steps = vec![
            step(first, vec![(first, 60, 3)]),
            step(second, vec![(quick, 30, 4), (slow, 45, 5)]),
            step(third, vec![(third, 50, 6)]),
        ];
        let mut gaps = vec![None; 49];
        for (one, other, gap) in [(0, 1, 10), (0, 4, 10), (0, 5, 20), (3, 1, 10), (3, 4, 10), (3, 5, 20)] {
            gaps[one * 7 + other] = Some(gap);
            gaps[other * 7 + one] = Some(gap);
        }
        let mut rule = Apart { steps, gaps, hot, unit: 1 };
        for (fact, expected) in [(third, 50), (first, 60), (second, 100), (slow, 125)] {
            trail.set(fact, Reason::Chosen).expect("free");
            rule.propagate(&mut trail, 0).expect("free");
            assert_eq!(trail.least(hot), expected);
        }
    }
}

//! For how many minutes a cavity is hot at least: the union of `[start, end + cool_off)`, less one `cool_off` at the end.

use super::cumulative::Task;
use super::literal::{Expr, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Trail};
use crate::instance::Time;

/// The rule for one cavity.
pub(super) struct Hot {
    pub(super) pans: Vec<Task>,
    pub(super) cool_off: Time,
    /// At least the hot minutes.
    pub(super) hot: Expr,
}

/// A pan that is inside, and between what it certainly keeps the cavity hot.
#[derive(Clone, Copy)]
struct Core {
    from: Time,
    to: Time,
    pan: usize,
}

impl Hot {
    /// Chains of cores, each chain one spell of heat, in order.
    fn spells(&self, trail: &Trail) -> Vec<Vec<Core>> {
        let mut cores: Vec<Core> = Vec::new();
        for (pan, task) in self.pans.iter().enumerate() {
            if trail.holds(task.present) {
                let (from, to) = task.core(trail);
                if from < to + self.cool_off {
                    cores.push(Core { from, to: to + self.cool_off, pan });
                }
            }
        }
        cores.sort_by_key(|core| (core.from, std::cmp::Reverse(core.to)));
        let mut spells: Vec<Vec<Core>> = Vec::new();
        for core in cores {
            match spells.last_mut() {
                Some(spell) if spell.last().is_some_and(|last| core.to <= last.to) => {}
                Some(spell) if spell.last().is_some_and(|last| core.from <= last.to) => {
                    // A core between two that already touch adds nothing.
                    while spell.len() > 1 && spell[spell.len() - 2].to >= core.from {
                        spell.pop();
                    }
                    spell.push(core);
                }
                _ => spells.push(vec![core]),
            }
        }
        spells
    }
}

impl Propagator for Hot {
    fn sides(&self) -> Vec<Side> {
        self.pans.iter().flat_map(Task::sides).collect()
    }

    fn rank(&self) -> usize {
        2
    }

    fn propagate(&mut self, trail: &mut Trail, _: u32) -> Result<(), Conflict> {
        let spells = self.spells(trail);
        let span = |spell: &Vec<Core>| spell.last().map_or(0, |last| last.to) - spell[0].from;
        let hot = spells.iter().map(span).sum::<Time>() - self.cool_off;
        trail.set_because(self.hot.at_least(hot), |trail, why| {
            for spell in &spells {
                for (index, core) in spell.iter().enumerate() {
                    let task = self.pans[core.pan];
                    // Inside a spell a core need only reach the next one.
                    let to = spell.get(index + 1).map_or(core.to, |next| next.from);
                    why.push(task.present);
                    why.extend([task.starts_by(trail, core.from), task.ends_from(trail, to - self.cool_off)]);
                }
            }
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn gaps_count_up_to_the_cooling_off() {
        let mut trail = Trail::new();
        let pan = |from: Time, to: Time| Task {
            present: super::super::literal::Lit::TRUE,
            start: Expr::constant(from),
            end: Expr::constant(to),
            min: to - from,
            amount: 1,
        };
        for (pans, cool_off, expected) in [
            (vec![(10, 20), (25, 30)], 10, 20),
            (vec![(10, 20), (25, 30)], 2, 17),
            (vec![(10, 20), (12, 15), (18, 40), (19, 30)], 0, 30),
            (vec![(10, 20), (20, 30), (12, 22)], 0, 20),
        ] {
            let hot = trail.variable(0, 100);
            let pans = pans.into_iter().map(|(from, to)| pan(from, to)).collect();
            Hot { pans, cool_off, hot }.propagate(&mut trail, 0).expect("free");
            assert_eq!(trail.least(hot), expected);
        }
    }
}

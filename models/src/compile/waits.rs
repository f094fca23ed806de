//! What waiting costs: between steps, in steps that are stretched, and before serving.

use super::graph::Graph;
use crate::blocks::{Stretch, more_delicate, wait};
use crate::menu::Keeps;
use crate::problem::Wait;

/// How the food keeps after each job, and whether the soft minutes of that way of keeping are taken by then.
pub(super) struct Waits {
    keeps: Vec<Keeps>,
    taken: Vec<bool>,
    stretches: Vec<Wait>,
}

impl Waits {
    /// `elastic` says by how many minutes each job may be stretched beyond its least minutes, and what those are.
    pub(super) fn new(graph: &Graph<'_>, order: &[usize], elastic: &[(i64, i64)]) -> Waits {
        let mut waits = Waits {
            keeps: vec![Keeps::Warm; graph.jobs.len()],
            taken: vec![false; graph.jobs.len()],
            stretches: vec![Wait::default(); graph.jobs.len()],
        };
        let mut before = vec![Vec::new(); graph.jobs.len()];
        for arc in &graph.arcs {
            let waits_there = arc.gap.max != Some(arc.gap.min);
            before[arc.to].push((arc.from, arc.keeps, waits_there));
        }
        for &job in order {
            let (step, defaults) = (graph.jobs[job].step, &graph.jobs[job].defaults);
            let own = step.keeps.or(defaults.keeps);
            let inherited = || before[job].iter().map(|&(from, _, _)| waits.keeps[from]).reduce(more_delicate);
            let keeps = own.or_else(inherited).unwrap_or(Keeps::Warm);
            let mut taken = before[job].iter().any(|&(from, own, waits_there)| {
                own.unwrap_or(waits.keeps[from]) == keeps && (waits_there || waits.taken[from])
            });
            let (least, room) = elastic[job];
            if room > 0 {
                let (stretch, as_keeps) = match (step.likes, step.way.stretch, defaults.stretch) {
                    (Some(likes), _, _) => (liked(likes - least, keeps), keeps),
                    (None, Some(own), _) | (None, None, Stretch::Like(own)) => (wait(own, !taken), own),
                    (None, None, Stretch::AsAfterwards) => (wait(keeps, !taken), keeps),
                    (None, None, Stretch::HalfFree) => (liked(room / 2, keeps), keeps),
                };
                waits.stretches[job] = stretch;
                taken |= as_keeps == keeps;
            }
            waits.keeps[job] = keeps;
            waits.taken[job] = taken;
        }
        waits
    }

    /// How the food keeps after a job.
    pub(super) fn keeps(&self, job: usize) -> Keeps {
        self.keeps[job]
    }

    /// What each minute costs by which a job is stretched.
    pub(super) fn stretch(&self, job: usize) -> Wait {
        self.stretches[job]
    }

    /// What each minute costs between a job and whatever comes after it.
    pub(super) fn after(&self, job: usize, own: Option<Keeps>) -> Wait {
        wait(own.unwrap_or(self.keeps[job]), !self.taken[job])
    }
}

/// Free for so many minutes, then as dear as food that keeps in this way and has stood.
fn liked(soft: i64, keeps: Keeps) -> Wait {
    Wait { rate: 0, soft: Some(soft.max(0)), rate_after: wait(keeps, false).rate_after }
}

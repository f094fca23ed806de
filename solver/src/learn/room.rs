//! Pans that do not fit a cavity or a top together, although every two of them do.

use super::cumulative::Task;
use super::literal::{Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Trail};
use crate::instance::{PlaceTable, Time};

/// The rule for one cavity or top.
pub(super) struct Room<'i> {
    pub(super) table: &'i PlaceTable,
    /// Every mode in this place, with its index among the occupants.
    pub(super) pans: Vec<(Task, usize)>,
}

/// A stretch of time and the pans that must be inside.
struct Segment {
    from: Time,
    to: Time,
    inside: Vec<usize>,
}

impl Room<'_> {
    fn segments(&self, trail: &Trail) -> Vec<Segment> {
        let mut cores: Vec<(Time, Time, usize)> = Vec::new();
        for (index, (task, _)) in self.pans.iter().enumerate() {
            let (from, to) = task.core(trail);
            if from < to && trail.holds(task.present) {
                cores.push((from, to, index));
            }
        }
        let mut cuts: Vec<Time> = cores.iter().flat_map(|&(from, to, _)| [from, to]).collect();
        cuts.sort_unstable();
        cuts.dedup();
        let spans = cuts.windows(2).map(|cut| {
            let inside = cores.iter().filter(|&&(from, to, _)| from <= cut[0] && cut[1] <= to);
            Segment { from: cut[0], to: cut[1], inside: inside.map(|&(_, _, index)| index).collect() }
        });
        spans.filter(|segment| segment.inside.len() > 1).collect()
    }

    fn fits(&self, pans: &[usize]) -> bool {
        let occupants: Vec<usize> = pans.iter().map(|&pan| self.pans[pan].1).collect();
        self.table.fits(&occupants)
    }

    /// A smallest part of `inside` that does not fit, `kept` always in it.
    fn least_clash(&self, inside: &[usize], kept: Option<usize>) -> Vec<usize> {
        let mut clash = inside.to_vec();
        clash.extend(kept);
        let mut at = 0;
        while at < clash.len() {
            let pan = clash[at];
            if Some(pan) != kept {
                clash.remove(at);
                if !self.fits(&clash) {
                    continue;
                }
                clash.insert(at, pan);
            }
            at += 1;
        }
        clash.retain(|&pan| Some(pan) != kept);
        clash
    }

    /// Facts that the pans are inside over the whole of `[from, to)`.
    fn why(&self, trail: &Trail, clash: &[usize], from: Time, to: Time, why: &mut Vec<Lit>) {
        for &pan in clash {
            let task = self.pans[pan].0;
            why.extend([task.present, task.starts_by(trail, from), task.ends_from(trail, to)]);
        }
    }

    /// Keeps one more pan out of a segment.
    fn keep_out(&self, trail: &mut Trail, pan: usize, segment: &Segment) -> Result<(), Conflict> {
        let task = self.pans[pan].0;
        let Segment { from, to, ref inside } = *segment;
        let (meets_left, meets_right) = (task.earliest_end(trail) > from, task.latest_start(trail) < to);
        if !(meets_left || meets_right) || !(meets_left && meets_right || trail.holds(task.present)) {
            return Ok(());
        }
        let mut trial = inside.clone();
        trial.push(pan);
        if self.fits(&trial) {
            return Ok(());
        }
        let clash = self.least_clash(inside, Some(pan));
        if meets_left && meets_right {
            trail.set_because(task.present.opposite(), |trail, why| {
                why.extend([task.starts_by(trail, to - 1), task.ends_from(trail, from + 1)]);
                self.why(trail, &clash, from, to, why);
            })?;
        }
        if meets_left && trail.holds(task.present) {
            trail.set_because(task.start.at_least(to), |trail, why| {
                why.extend([task.present, task.ends_from(trail, from + 1)]);
                self.why(trail, &clash, from, to, why);
            })?;
        }
        if meets_right && trail.holds(task.present) {
            trail.set_because(task.end.at_most(from), |trail, why| {
                why.extend([task.present, task.starts_by(trail, to - 1)]);
                self.why(trail, &clash, from, to, why);
            })?;
        }
        Ok(())
    }
}

impl Propagator for Room<'_> {
    fn sides(&self) -> Vec<Side> {
        self.pans.iter().flat_map(|(task, _)| task.sides()).collect()
    }

    fn rank(&self) -> usize {
        2
    }

    fn propagate(&mut self, trail: &mut Trail, _: u32) -> Result<(), Conflict> {
        for segment in self.segments(trail) {
            if !self.fits(&segment.inside) {
                let clash = self.least_clash(&segment.inside, None);
                return Err(trail.clash(|trail, why| self.why(trail, &clash, segment.from, segment.from + 1, why)));
            }
            for (pan, (task, _)) in self.pans.iter().enumerate() {
                // The other modes of a step inside are not there anyway.
                if !segment.inside.contains(&pan) && !trail.fails(task.present) {
                    self.keep_out(trail, pan, &segment)?;
                }
            }
        }
        Ok(())
    }
}

//! Pans over racks: which pans share a rack, and how they stand on it.
//!
//! The tallest pan that is left opens a rack, and whatever else goes on that rack costs no height. So each rack takes a
//! largest possible set, one to which no other pan could be added: leaving room unused never helps the pans that remain.

use std::collections::HashSet;

use super::sheet::{self, Lie, Memory, Sheet};
use super::{Fit, Spot};

/// The inside of a cavity, as far as packing goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) struct Room {
    pub(super) sheet: Sheet,
    pub(super) height: i64,
    pub(super) racks: i64,
    pub(super) clearance: i64,
}

/// The most work one question may take, in outlines looked at.
const WORK: u64 = 300_000;

/// Whether pans, as height, long side and short side and in descending order, fit into a room.
pub(super) fn fit(room: Room, pans: &[[i64; 3]], memory: &mut Memory) -> Fit {
    let sheets = i128::from(room.sheet.width.max(0)) * i128::from(room.sheet.depth.max(0));
    let areas: i128 = pans.iter().map(|&[_, w, d]| i128::from(w) * i128::from(d)).sum();
    let sound = pans.iter().all(|&[h, _, d]| h >= 1 && d >= 1);
    if !sound || room.clearance < 0 || areas > sheets.saturating_mul(i128::from(room.racks)) {
        return Fit::No;
    }
    let mut search = Search { room, pans, memory, racks: Vec::new(), failed: HashSet::new(), work: 0, doubt: false };
    let all: Vec<usize> = (0..pans.len()).collect();
    if search.open(&all, room.height) {
        Fit::Yes(search.spots())
    } else if search.doubt {
        Fit::Unknown
    } else {
        Fit::No
    }
}

struct Search<'a> {
    room: Room,
    pans: &'a [[i64; 3]],
    memory: &'a mut Memory,
    racks: Vec<(Vec<usize>, Vec<Lie>)>,
    /// What was left, with how much height and how many racks in use, when nothing could be done.
    failed: HashSet<(Vec<usize>, i64, usize)>,
    work: u64,
    /// Whether a "no" may be due to the limit of work.
    doubt: bool,
}

impl Search<'_> {
    /// Opens racks until nothing is left. `left` is in descending order of height.
    fn open(&mut self, left: &[usize], height: i64) -> bool {
        let Some((&tallest, others)) = left.split_first() else { return true };
        let needed = self.pans[tallest][0].saturating_add(self.room.clearance);
        let used = self.racks.len();
        if needed > height || i64::try_from(used).is_ok_and(|used| used >= self.room.racks) {
            return false;
        }
        let state = (left.to_vec(), height, used);
        if self.failed.contains(&state) {
            return false;
        }
        let Some(lies) = self.lies(&[tallest]) else { return false };
        if self.fill(vec![tallest], lies, others, Vec::new(), height - needed) {
            return true;
        }
        self.failed.insert(state);
        false
    }

    /// Decides pan by pan what goes on the rack that is open, then opens the next one.
    fn fill(&mut self, on: Vec<usize>, lies: Vec<Lie>, undecided: &[usize], off: Vec<usize>, height: i64) -> bool {
        if self.work >= WORK {
            self.doubt = true;
            return false;
        }
        let Some((&pan, rest)) = undecided.split_first() else {
            // A set to which a pan could be added is none of the largest.
            if off.iter().any(|&pan| self.lies(&with(&on, pan)).is_some()) {
                return false;
            }
            self.racks.push((on, lies));
            let done = self.open(&off, height);
            if !done {
                self.racks.pop();
            }
            return done;
        };
        let more = with(&on, pan);
        if let Some(lies) = self.lies(&more)
            && self.fill(more, lies, rest, off.clone(), height)
        {
            return true;
        }
        // Of equal pans the first ones go on: if this one stays off, so do its equals.
        let equals = rest.iter().take_while(|&&other| self.pans[other] == self.pans[pan]).count();
        let off = off.into_iter().chain([pan]).chain(rest[..equals].iter().copied()).collect();
        self.fill(on, lies, &rest[equals..], off, height)
    }

    /// How these pans stand on one rack, in their order; none if they do not, or if that is not known.
    fn lies(&mut self, pans: &[usize]) -> Option<Vec<Lie>> {
        let size = |pan: usize| [self.pans[pan][1], self.pans[pan][2]];
        let mut order: Vec<usize> = (0..pans.len()).collect();
        order.sort_by_key(|&i| std::cmp::Reverse(size(pans[i])));
        let rects = order.iter().map(|&i| size(pans[i])).collect();
        let answer = sheet::fit(self.room.sheet, rects, self.memory);
        self.work += answer.work;
        self.doubt |= !answer.proved;
        let sorted = answer.lies?;
        let mut lies = sorted.clone();
        order.iter().zip(sorted).for_each(|(&i, lie)| lies[i] = lie);
        Some(lies)
    }

    fn spots(&self) -> Vec<Spot> {
        let mut spots = vec![Spot { rack: 0, x: 0, y: 0, turned: false }; self.pans.len()];
        for (rack, (pans, lies)) in self.racks.iter().enumerate() {
            for (&pan, &Lie { x, y, turned }) in pans.iter().zip(lies) {
                spots[pan] = Spot { rack, x, y, turned };
            }
        }
        spots
    }
}

fn with(pans: &[usize], pan: usize) -> Vec<usize> {
    pans.iter().copied().chain([pan]).collect()
}

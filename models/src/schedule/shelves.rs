//! Which pan stands on which shelf: each pan in one spot for as long as possible, wishes met as far as there is room.
//!
//! A **stretch** is a time in which no pan and no shelf is moved. Each stretch is made as long as it can be, so that pans
//! are shifted as seldom as possible.

use std::collections::BTreeMap;

use super::heights::{Heights, Level};
use super::spots::{Corner, Tile, place};
use crate::pack::Fit;
use crate::problem::{Minute, Rack};

/// How many corners may be tried for the pans of one stretch. Trying a shelf counts for [`SHELF`] of them.
const TRIALS: usize = 400_000;
const SHELF: usize = 50;

/// The space that is shared.
#[derive(Clone, Copy, Debug)]
pub(super) struct Room {
    pub(super) width: i64,
    pub(super) depth: i64,
    pub(super) height: i64,
    pub(super) clearance: i64,
    pub(super) racks: usize,
}

/// A pan and its time in the room.
#[derive(Clone, Debug)]
pub(super) struct Pan {
    pub(super) from: Minute,
    pub(super) until: Minute,
    /// Width, depth and height.
    pub(super) size: [i64; 3],
    pub(super) wish: Option<Rack>,
}

/// Where a pan stands for a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stand {
    pub(super) pan: usize,
    pub(super) from: Minute,
    pub(super) until: Minute,
    /// From 1 at the bottom.
    pub(super) shelf: usize,
    pub(super) floor: i64,
    pub(super) height: Rack,
    pub(super) corner: Corner,
    /// Whether it was shifted here from another spot.
    pub(super) shifted: bool,
}

/// A shelf and a corner on it.
type Slot = (usize, Corner);

/// Gives each pan its spots; `pans` in order of `from`. `exact` packs pans of given sizes for one moment: it is asked when
/// the search for lasting spots gives up.
pub(super) fn arrange(room: Room, pans: &[Pan], mut exact: impl FnMut(&[[i64; 3]]) -> Fit) -> Vec<Stand> {
    let mut stands: Vec<Stand> = Vec::new();
    let mut slots: BTreeMap<usize, Slot> = BTreeMap::new();
    let mut next = 0;
    while next < pans.len() {
        let begin = pans[next].from;
        let mut members: Vec<usize> = slots.keys().copied().filter(|&pan| pans[pan].until > begin).collect();
        members.push(next);
        let mut search = Search::new(room, pans, &members, &slots);
        let mut found = search.best().unwrap_or_else(|| search.packed(&mut exact));
        next += 1;
        while let Some(pan) = pans.get(next) {
            if members.iter().all(|&member| pans[member].until <= pan.from) {
                break;
            }
            members.push(next);
            let hints = members.iter().copied().zip(found.slots.iter().copied()).collect();
            match Search::new(room, pans, &members, &hints).best() {
                Some(better) => found = better,
                None => {
                    members.pop();
                    break;
                }
            }
            next += 1;
        }
        let end = pans.get(next).map_or(Minute::MAX, |pan| pan.from);
        slots = members.iter().copied().zip(found.slots.iter().copied()).collect();
        for (&pan, &(level, corner)) in members.iter().zip(&found.slots) {
            let (from, until) = (pans[pan].from.max(begin), pans[pan].until.min(end));
            let (shelf, floor) = found.heights.shelf(level);
            let height = found.heights.word(level, pans[pan].size[2], pans[pan].wish);
            let stand = Stand { pan, from, until, shelf, floor, height, corner, shifted: false };
            match stands.iter_mut().rev().find(|earlier| earlier.pan == pan) {
                Some(earlier) if (earlier.floor, earlier.corner) == (floor, corner) => {
                    (earlier.until, earlier.shelf, earlier.height) = (until, shelf, height);
                }
                earlier => {
                    let shifted = earlier.is_some();
                    stands.push(Stand { shifted, ..stand });
                }
            }
        }
    }
    stands.sort_by_key(|stand| (stand.from, stand.pan));
    stands
}

/// An arrangement of the pans of a stretch.
struct Found {
    slots: Vec<Slot>,
    heights: Heights,
    unmet: usize,
}

/// The search for the shelves of one stretch.
struct Search<'a> {
    room: Room,
    pans: Vec<&'a Pan>,
    hints: Vec<Option<Slot>>,
    /// Positions in `pans`, in the order in which shelves are chosen.
    order: Vec<usize>,
    levels: usize,
    /// The shelf of each pan chosen so far.
    on: Vec<Option<usize>>,
    /// Spots of sets of pans on one shelf, or that there are none.
    known: BTreeMap<Vec<usize>, Option<Vec<Corner>>>,
    trials: usize,
    best: Option<Found>,
}

impl<'a> Search<'a> {
    fn new(room: Room, pans: &'a [Pan], members: &[usize], hints: &BTreeMap<usize, Slot>) -> Self {
        let pans: Vec<&Pan> = members.iter().map(|&member| &pans[member]).collect();
        let hints = members.iter().map(|member| hints.get(member).copied()).collect();
        let mut order: Vec<usize> = (0..pans.len()).collect();
        order.sort_by_key(|&pan| (pans[pan].wish.is_none(), std::cmp::Reverse(pans[pan].size[2]), pan));
        let levels = room.racks.min(pans.len()).max(1);
        let on = vec![None; pans.len()];
        Search { room, pans, hints, order, levels, on, known: BTreeMap::new(), trials: TRIALS, best: None }
    }

    /// The arrangement with the fewest unmet wishes, if there is any.
    fn best(&mut self) -> Option<Found> {
        self.descend(0);
        self.best.take()
    }

    fn descend(&mut self, depth: usize) {
        if self.trials == 0 || self.best.as_ref().is_some_and(|best| best.unmet == 0) {
            return;
        }
        self.trials = self.trials.saturating_sub(SHELF);
        let Some(&pan) = self.order.get(depth) else {
            return self.keep();
        };
        for level in self.preferred(pan) {
            self.on[pan] = Some(level);
            if self.height_needed() <= self.room.height && self.spots(level).is_some() {
                self.descend(depth + 1);
            }
            self.on[pan] = None;
        }
    }

    /// Shelves to try for a pan, best first.
    fn preferred(&self, pan: usize) -> Vec<usize> {
        let top = self.levels - 1;
        let mut levels: Vec<usize> = (0..self.levels).collect();
        match self.pans[pan].wish {
            Some(Rack::Upper) => levels.reverse(),
            Some(Rack::Middle) => levels.sort_by_key(|&level| (2 * level).abs_diff(top)),
            Some(Rack::Lower) | None => {}
        }
        if let Some((level, _)) = self.hints[pan] {
            levels.sort_by_key(|&other| other != level);
        }
        if self.pans.iter().all(|pan| pan.wish.is_none()) {
            // Nobody minds the order: one empty shelf is as good as another.
            let used = |level: usize| self.on.contains(&Some(level));
            let empty = levels.iter().copied().find(|&level| !used(level));
            levels.retain(|&level| used(level) || Some(level) == empty);
        }
        levels
    }

    fn level(&self, level: usize) -> Level {
        let here = self.pans.iter().zip(&self.on).filter(|(_, on)| **on == Some(level));
        let tallest = here.clone().map(|(pan, _)| pan.size[2]).max();
        Level {
            need: tallest.map_or(0, |tallest| tallest + self.room.clearance),
            wishes: here.filter_map(|(pan, _)| Some((pan.size[2], pan.wish?))).collect(),
        }
    }

    fn height_needed(&self) -> i64 {
        (0..self.levels).map(|level| self.level(level).need).sum()
    }

    /// Corners of the pans on a shelf.
    fn spots(&mut self, level: usize) -> Option<&Vec<Corner>> {
        let set: Vec<usize> = (0..self.pans.len()).filter(|&pan| self.on[pan] == Some(level)).collect();
        let (room, pans, hints, trials) = (self.room, &self.pans, &self.hints, &mut self.trials);
        self.known
            .entry(set)
            .or_insert_with_key(|set| {
                let tile = |&pan: &usize| Tile {
                    from: pans[pan].from,
                    until: pans[pan].until,
                    width: pans[pan].size[0],
                    depth: pans[pan].size[1],
                    hint: hints[pan].filter(|hint| hint.0 == level).map(|hint| hint.1),
                };
                place(room.width, room.depth, &set.iter().map(tile).collect::<Vec<_>>(), trials)
            })
            .as_ref()
    }

    /// Keeps a complete arrangement if it meets more wishes than the best so far.
    fn keep(&mut self) {
        let levels: Vec<Level> = (0..self.levels).map(|level| self.level(level)).collect();
        let heights = Heights::new(self.room.height, levels);
        let unmet = heights.unmet();
        if self.best.as_ref().is_some_and(|best| best.unmet <= unmet) {
            return;
        }
        let mut slots = vec![(0, Corner::default()); self.pans.len()];
        for level in 0..self.levels {
            let Some(corners) = self.spots(level).cloned() else { return };
            let here = (0..self.pans.len()).filter(|&pan| self.on[pan] == Some(level));
            for (pan, corner) in here.zip(corners) {
                slots[pan] = (level, corner);
            }
        }
        self.best = Some(Found { slots, heights, unmet });
    }

    /// An arrangement for this moment only. Pans that do not fit are all in one heap, for the check to see.
    fn packed(&mut self, exact: impl FnOnce(&[[i64; 3]]) -> Fit) -> Found {
        let sizes: Vec<[i64; 3]> = self.pans.iter().map(|pan| pan.size).collect();
        let slots: Vec<Slot> = match exact(&sizes) {
            Fit::Yes(spots) => spots.iter().map(|s| (s.rack, Corner { x: s.x, y: s.y, turned: s.turned })).collect(),
            Fit::No | Fit::Unknown => vec![(0, Corner::default()); sizes.len()],
        };
        self.on = slots.iter().map(|slot| Some(slot.0)).collect();
        let highest = slots.iter().map(|slot| slot.0).max().unwrap_or(0);
        let heights = Heights::new(self.room.height, (0..=highest).map(|level| self.level(level)).collect());
        Found { unmet: heights.unmet(), slots, heights }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pack::Packer;
    use crate::problem::Cavity;

    fn pan(from: Minute, until: Minute, size: [i64; 3], wish: Option<Rack>) -> Pan {
        Pan { from, until, size, wish }
    }

    const OVEN: Room = Room { width: 500, depth: 400, height: 330, clearance: 30, racks: 3 };

    #[test]
    fn pans_are_shifted_only_when_no_lasting_spots_exist() {
        // Sides, from, until: the five units of width are never overbooked, yet no fixed spots do for all seven (found and
        // confirmed by trying all positions).
        let pans: Vec<Pan> = [(2, 0, 2), (3, 0, 1), (2, 1, 3), (1, 1, 4), (1, 2, 4), (3, 3, 5), (2, 4, 5)]
            .map(|(side, from, until)| pan(from, until, [100 * side, 400, 300], None))
            .to_vec();
        let shifted = |pans: &[Pan]| arrange(OVEN, pans, |_| Fit::Unknown).iter().filter(|stand| stand.shifted).count();
        assert!((1..=2).contains(&shifted(&pans)), "{}", shifted(&pans));
        for left_out in 0..pans.len() {
            let mut fewer = pans.clone();
            fewer.remove(left_out);
            assert_eq!(shifted(&fewer), 0, "without pan {left_out}");
        }
    }

    #[test]
    fn each_gets_the_height_it_asks_for_as_far_as_there_is_room() {
        let heights =
            |pans: &[Pan]| arrange(OVEN, pans, |_| Fit::Unknown).iter().map(|stand| stand.height).collect::<Vec<_>>();
        let wide = |wish| pan(0, 60, [480, 390, 60], Some(wish));
        assert_eq!(
            heights(&[wide(Rack::Lower), wide(Rack::Upper), wide(Rack::Middle)]),
            [Rack::Lower, Rack::Upper, Rack::Middle]
        );
        let (one, other) = (wide(Rack::Upper), wide(Rack::Upper));
        let both = heights(&[one, other]);
        assert_eq!(both.iter().filter(|&&height| height == Rack::Upper).count(), 1);
        let small = |wish| pan(0, 60, [240, 390, 60], Some(wish));
        assert_eq!(heights(&[small(Rack::Upper), small(Rack::Upper)]), [Rack::Upper, Rack::Upper]);
    }

    #[test]
    fn a_moment_too_crowded_for_the_search_is_packed_exactly() {
        // Two dozen equal pans on four full racks: too many for the search, not for the packer.
        let cavity = Cavity {
            id: "rack oven".to_owned(),
            width: 600,
            depth: 400,
            height: 800,
            racks: 4,
            clearance: 20,
            max_weight: 100_000,
            t_min: 30,
            t_max: 250,
            t_open: 20,
            rise: 100,
            fall: 50,
            settle: 0,
            cool_off: 0,
            heats: Vec::new(),
            attended: false,
        };
        let room = Room { width: 600, depth: 400, height: 800, clearance: 20, racks: 4 };
        let pans: Vec<Pan> = (0..24).map(|at| pan(at, 90, [190 + at % 3, 190 - at % 2, 150 + at], None)).collect();
        let mut packer = Packer::new();
        let stands = arrange(room, &pans, |sizes| packer.fits_cavity(&cavity, sizes, &vec![1; sizes.len()]));
        for now in 0..24 {
            let there: Vec<&Stand> = stands.iter().filter(|s| s.from <= now && now < s.until).collect();
            assert_eq!(i64::try_from(there.len()), Ok(now + 1));
            for (index, a) in there.iter().enumerate() {
                for b in &there[index + 1..] {
                    let apart = |p: i64, wide: i64, q: i64, broad: i64| p + wide <= q || q + broad <= p;
                    let [aw, ad, _] = pans[a.pan].size;
                    let [bw, bd, _] = pans[b.pan].size;
                    let ((aw, ad), (bw, bd)) = (
                        if a.corner.turned { (ad, aw) } else { (aw, ad) },
                        if b.corner.turned { (bd, bw) } else { (bw, bd) },
                    );
                    let beside = apart(a.corner.x, aw, b.corner.x, bw) || apart(a.corner.y, ad, b.corner.y, bd);
                    assert!(a.floor != b.floor || beside, "{a:?} {b:?}");
                }
            }
        }
    }

    #[test]
    fn what_cannot_fit_is_heaped_up_and_not_lost() {
        let stands =
            arrange(OVEN, &[pan(0, 10, [480, 390, 290], None), pan(5, 15, [480, 390, 290], None)], |_| Fit::No);
        assert_eq!(stands.iter().filter(|stand| stand.pan == 1).count(), 1);
    }
}

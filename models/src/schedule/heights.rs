//! How high the shelves hang.

use crate::problem::Rack;

/// What stands on a shelf.
#[derive(Clone, Debug)]
pub(super) struct Level {
    /// The height it takes: its tallest pan and the clearance; 0 for a shelf that is not used.
    pub(super) need: i64,
    /// Height and wish of each pan that has one.
    pub(super) wishes: Vec<(i64, Rack)>,
}

/// Shelves from the bottom up, hung so that as many wishes as possible are met.
pub(super) struct Heights {
    height: i64,
    levels: Vec<Level>,
    floors: Vec<i64>,
}

impl Heights {
    pub(super) fn new(height: i64, levels: Vec<Level>) -> Self {
        let mut heights = Heights { height, floors: vec![0; levels.len()], levels };
        heights.hang();
        heights
    }

    /// The shelf's number from 1 at the bottom, among those in use, and its height above the floor.
    pub(super) fn shelf(&self, level: usize) -> (usize, i64) {
        let below = self.levels[..level].iter().filter(|level| level.need > 0).count();
        (below + 1, self.floors[level])
    }

    /// The height of a pan in words: what it asks for, if it has that; else the third of the cavity its middle is in.
    pub(super) fn word(&self, level: usize, pan: i64, wish: Option<Rack>) -> Rack {
        let middle = 2 * self.floors[level] + pan;
        match wish {
            Some(wish) if self.meets(level, self.floors[level], pan, wish) => wish,
            _ if 3 * middle < 2 * self.height => Rack::Lower,
            _ if 3 * middle > 4 * self.height => Rack::Upper,
            _ => Rack::Middle,
        }
    }

    pub(super) fn unmet(&self) -> usize {
        (0..self.levels.len()).map(|level| self.unmet_at(level, self.floors[level])).sum()
    }

    fn slack(&self) -> i64 {
        self.height - self.levels.iter().map(|level| level.need).sum::<i64>()
    }

    /// Height taken by the shelves below.
    fn base(&self, level: usize) -> i64 {
        self.levels[..level].iter().map(|level| level.need).sum()
    }

    fn unmet_at(&self, level: usize, floor: i64) -> usize {
        self.levels[level].wishes.iter().filter(|&&(pan, wish)| !self.meets(level, floor, pan, wish)).count()
    }

    /// Upper: the middle of the pan in the upper two fifths, or nothing could be higher. Lower: likewise. Middle: in the
    /// middle two fifths.
    fn meets(&self, level: usize, floor: i64, pan: i64, wish: Rack) -> bool {
        let middle = 2 * floor + pan;
        let highest = self.base(level) + self.slack();
        let last = self.levels.iter().rposition(|level| level.need > 0) == Some(level);
        match wish {
            Rack::Upper => 5 * middle >= 6 * self.height || (last && floor == highest),
            Rack::Lower => 5 * middle <= 4 * self.height || floor == 0,
            Rack::Middle => (6 * self.height..=14 * self.height).contains(&(10 * middle)),
        }
    }

    /// Dynamic programming over the shelves from the bottom up: each hangs at one of a few offsets above the least, no
    /// lower than that of the shelf below. Fewest unmet wishes first, then evenly spread.
    fn hang(&mut self) {
        let used: Vec<usize> = (0..self.levels.len()).filter(|&level| self.levels[level].need > 0).collect();
        let slack = self.slack().max(0);
        let offsets = self.offsets(slack);
        // Best cost and offsets of the shelves so far, by the offset of the last one.
        let mut best: Vec<(usize, i64, Vec<i64>)> = vec![(0, 0, Vec::new()); offsets.len()];
        for (rank, &level) in used.iter().enumerate() {
            let even = if used.len() == 1 { slack / 2 } else { slack * rank as i64 / (used.len() as i64 - 1) };
            let cost = |offset: i64| (self.unmet_at(level, self.base(level) + offset), (offset - even).abs());
            let step = |(index, &offset): (usize, &i64)| {
                let (unmet, far) = cost(offset);
                let below = best[..=index].iter().min_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1)));
                let (unmet_below, far_below, mut chosen) = below.cloned().unwrap_or_default();
                chosen.push(offset);
                (unmet + unmet_below, far + far_below, chosen)
            };
            best = offsets.iter().enumerate().map(step).collect();
        }
        let chosen = best.into_iter().min_by(|a, b| (a.0, a.1).cmp(&(b.0, b.1))).map_or(Vec::new(), |best| best.2);
        for (&level, offset) in used.iter().zip(chosen) {
            self.floors[level] = self.base(level) + offset;
        }
    }

    /// Offsets worth trying: none, all, even shares, and where a wish begins or ceases to be met.
    fn offsets(&self, slack: i64) -> Vec<i64> {
        let count = i64::try_from(self.levels.len()).unwrap_or(1);
        let mut offsets: Vec<i64> = (0..=count).map(|share| slack * share / count).chain([slack / 2]).collect();
        for (index, level) in self.levels.iter().enumerate() {
            for &(pan, wish) in &level.wishes {
                let floor = match wish {
                    Rack::Upper => (6 * self.height + 9) / 10 - pan / 2,
                    Rack::Middle => (self.height - pan) / 2,
                    Rack::Lower => (4 * self.height) / 10 - (pan + 1) / 2,
                };
                offsets.push((floor - self.base(index)).clamp(0, slack));
            }
        }
        offsets.sort_unstable();
        offsets.dedup();
        offsets
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn heights(levels: &[(i64, Option<Rack>)]) -> Heights {
        let level = |&(pan, wish): &(i64, Option<Rack>)| Level {
            need: pan + 30,
            wishes: wish.map(|wish| (pan, wish)).into_iter().collect(),
        };
        Heights::new(330, levels.iter().map(level).collect())
    }

    #[test]
    fn a_lone_gratin_hangs_high_and_a_lone_tray_in_the_middle() {
        assert_eq!(heights(&[(60, Some(Rack::Upper))]).word(0, 60, Some(Rack::Upper)), Rack::Upper);
        assert_eq!(heights(&[(60, None)]).word(0, 60, None), Rack::Middle);
    }

    #[test]
    fn a_wish_with_no_room_is_counted() {
        // A tall roast below leaves its neighbour no way down.
        assert_eq!(heights(&[(180, None), (60, Some(Rack::Lower))]).unmet(), 1);
        assert_eq!(heights(&[(60, Some(Rack::Lower)), (180, None)]).unmet(), 0);
    }
}

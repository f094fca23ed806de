//! Measures an arrangement of pans, so that nobody has to trust the search that found it.

use std::collections::BTreeMap;

use crate::pack::Spot;

/// The inside of a cavity, or a top as a cavity of one rack.
pub(super) struct Inside {
    pub(super) width: i64,
    pub(super) depth: i64,
    pub(super) height: i64,
    pub(super) racks: i64,
    pub(super) clearance: i64,
}

/// Whether each pan stands at its spot: inside, beside all others on its rack, and with the racks below each other.
pub(super) fn stands(inside: &Inside, pans: &[[i64; 3]], spots: &[Spot]) -> bool {
    if pans.len() != spots.len() {
        return false;
    }
    let mut racks: BTreeMap<usize, Vec<(Rect, i64)>> = BTreeMap::new();
    for (&[width, depth, height], spot) in pans.iter().zip(spots) {
        let [width, depth] = if spot.turned { [depth, width] } else { [width, depth] };
        let rect = Rect { left: spot.x, right: spot.x + width, near: spot.y, far: spot.y + depth };
        if rect.left < 0 || rect.near < 0 || rect.right > inside.width || rect.far > inside.depth {
            return false;
        }
        let on_rack = racks.entry(spot.rack).or_default();
        if on_rack.iter().any(|(other, _)| other.overlaps(&rect)) {
            return false;
        }
        on_rack.push((rect, height));
    }
    let tallest = racks.values().map(|pans| pans.iter().map(|&(_, height)| height).max().unwrap_or(0));
    let heights: i64 = tallest.map(|height| height + inside.clearance).sum();
    racks.len() as i64 <= inside.racks && heights <= inside.height
}

struct Rect {
    left: i64,
    right: i64,
    near: i64,
    far: i64,
}

impl Rect {
    fn overlaps(&self, other: &Rect) -> bool {
        self.left < other.right && other.left < self.right && self.near < other.far && other.near < self.far
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spot(rack: usize, x: i64, y: i64, turned: bool) -> Spot {
        Spot { rack, x, y, turned }
    }

    #[test]
    fn measures_sides_overlaps_and_heights() {
        let inside = Inside { width: 40, depth: 30, height: 50, racks: 2, clearance: 5 };
        let pans = [[20, 30, 20], [30, 20, 20]];
        assert!(stands(&inside, &pans, &[spot(0, 0, 0, false), spot(0, 20, 0, true)]));
        assert!(stands(&inside, &pans, &[spot(0, 0, 0, false), spot(1, 0, 0, false)]));
        assert!(!stands(&inside, &pans, &[spot(0, 0, 0, false), spot(0, 20, 0, false)]), "juts out");
        assert!(!stands(&inside, &pans, &[spot(0, 0, 0, false), spot(0, 19, 0, true)]), "overlaps");
        assert!(!stands(&inside, &pans, &[spot(0, 0, 0, false), spot(0, -1, 0, true)]), "juts out on the left");
        assert!(!stands(&inside, &pans, &[spot(0, 0, 0, false)]), "one is missing");
        let taller = [[20, 30, 20], [30, 20, 21]];
        assert!(!stands(&inside, &taller, &[spot(0, 0, 0, false), spot(1, 0, 0, false)]), "too high");
        let three = [[20, 30, 5]; 3];
        let apart = [spot(0, 0, 0, false), spot(1, 0, 0, false), spot(2, 0, 0, false)];
        assert!(!stands(&inside, &three, &apart), "too many racks");
    }
}

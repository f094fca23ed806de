//! Where pans stand side by side on one shelf or top, each in one spot for as long as it is there.

use std::collections::BTreeSet;

use crate::problem::Minute;

/// A pan as it is seen from above, and when it is there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tile {
    pub(super) from: Minute,
    pub(super) until: Minute,
    pub(super) width: i64,
    pub(super) depth: i64,
    /// Where it stood before, to be tried first.
    pub(super) hint: Option<Corner>,
}

/// The back left corner of a pan's spot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub(super) struct Corner {
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) turned: bool,
}

impl Tile {
    /// Width and depth as it stands.
    pub(super) fn size(&self, turned: bool) -> (i64, i64) {
        if turned { (self.depth, self.width) } else { (self.width, self.depth) }
    }

    fn together(&self, other: &Tile) -> bool {
        self.from < other.until && other.from < self.until
    }
}

/// A spot for every tile such that no two that are there together overlap.
///
/// Corners are tried at sums of sides only: pushing all pans to the back and to the left ends in such a spot. Each trial
/// is taken off `trials`; with none left the answer is that there is no spot.
pub(super) fn place(width: i64, depth: i64, tiles: &[Tile], trials: &mut usize) -> Option<Vec<Corner>> {
    let mut placed = Vec::with_capacity(tiles.len());
    let (across, along) = (sums(width, tiles), sums(depth, tiles));
    descend(width, depth, tiles, (&across, &along), &mut placed, trials).then_some(placed)
}

fn descend(
    width: i64,
    depth: i64,
    tiles: &[Tile],
    sums: (&[i64], &[i64]),
    placed: &mut Vec<Corner>,
    trials: &mut usize,
) -> bool {
    let Some(tile) = tiles.get(placed.len()) else { return true };
    let turns: &[bool] = if tile.width == tile.depth { &[false] } else { &[false, true] };
    let spots = turns
        .iter()
        .flat_map(|&turned| sums.1.iter().flat_map(move |&y| sums.0.iter().map(move |&x| Corner { x, y, turned })));
    for corner in tile.hint.into_iter().chain(spots) {
        if *trials == 0 {
            return false;
        }
        *trials -= 1;
        let (wide, deep) = tile.size(corner.turned);
        if corner.x + wide > width || corner.y + deep > depth {
            continue;
        }
        let clear = tiles.iter().zip(placed.iter()).all(|(other, at)| {
            let (w, d) = other.size(at.turned);
            !tile.together(other)
                || corner.x + wide <= at.x
                || at.x + w <= corner.x
                || corner.y + deep <= at.y
                || at.y + d <= corner.y
        });
        if !clear {
            continue;
        }
        placed.push(corner);
        if descend(width, depth, tiles, sums, placed, trials) {
            return true;
        }
        placed.pop();
    }
    false
}

/// All sums of sides of different tiles that leave room for something.
fn sums(limit: i64, tiles: &[Tile]) -> Vec<i64> {
    const MOST: usize = 400;
    let mut sums = BTreeSet::from([0]);
    for tile in tiles {
        let more: Vec<i64> =
            sums.iter().flat_map(|sum| [sum + tile.width, sum + tile.depth]).filter(|&s| s < limit).collect();
        sums.extend(more);
        if sums.len() > MOST {
            break;
        }
    }
    sums.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tile(from: Minute, until: Minute, width: i64, depth: i64) -> Tile {
        Tile { from, until, width, depth, hint: None }
    }

    #[test]
    fn a_pinwheel_that_no_straight_cut_divides_is_found() {
        let pans = [(3, 2), (2, 3), (3, 2), (2, 3), (1, 1)].map(|(w, d)| tile(0, 1, w, d));
        assert!(place(5, 5, &pans, &mut 10_000).is_some());
        assert!(place(5, 4, &pans, &mut 10_000).is_none());
    }

    #[test]
    fn a_spot_is_used_again_once_it_is_free() {
        let pans = [tile(0, 10, 4, 4), tile(10, 20, 4, 4), tile(5, 15, 4, 1)];
        assert_eq!(place(4, 5, &pans, &mut 100).map(|spots| spots[0] == spots[1]), Some(true));
        assert!(place(4, 5, &[tile(0, 11, 4, 4), tile(10, 20, 4, 4)], &mut 100).is_none());
    }
}

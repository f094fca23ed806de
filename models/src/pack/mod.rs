//! Exact packing of pans: on the racks of a cavity, and on a top.
//!
//! The pans of one rack are rectangles side by side, each of which may be turned by 90 degrees; any orthogonal packing
//! counts, not only those that a knife could cut out. A positive answer carries the arrangement, so that nobody has to
//! trust the search. Beyond a fixed amount of work the answer is [`Fit::Unknown`]; it takes dozens of pans to get there.

mod bounds;
mod racks;
mod sheet;
mod stairs;

use std::collections::HashMap;

use serde::{Deserialize, Serialize};

use crate::problem::{Cavity, Top};

use racks::Room;
use sheet::Sheet;

/// Where a pan stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spot {
    /// Which rack, counted from 0 in no particular order of heights; at most `racks` of them are used. 0 on a top.
    pub rack: usize,
    /// Distance of its left side from the left wall, mm.
    pub x: i64,
    /// Distance of its near side from the front, mm.
    pub y: i64,
    /// Whether it is turned, so that its depth runs along the width of the place.
    pub turned: bool,
}

/// Whether pans fit together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fit {
    /// They do; a spot for each pan, in the order of the question.
    Yes(Vec<Spot>),
    /// They do not: there is no arrangement.
    No,
    /// Neither was found within the work that one question may take.
    Unknown,
}

impl Fit {
    /// Whether an arrangement was found.
    pub fn is_yes(&self) -> bool {
        matches!(self, Fit::Yes(_))
    }
}

/// Answers questions about packing and remembers the answers.
///
/// An answer depends on the question alone, never on what was asked before.
///
/// ```
/// use rangewright_models::pack::{Fit, Packer};
/// use rangewright_models::problem::Top;
///
/// let plate = Top { id: "plate".to_owned(), width: 610, depth: 610, scale: [1, 10] };
/// let mut packer = Packer::new();
/// assert!(packer.fits_top(&plate, &[300, 300, 300, 300]).is_yes());
/// assert_eq!(packer.fits_top(&plate, &[320, 320]), Fit::No);
/// ```
#[derive(Clone, Debug, Default)]
pub struct Packer {
    rooms: HashMap<(Room, Vec<[i64; 3]>), Fit>,
    sheets: HashMap<(Sheet, Vec<[i64; 2]>), sheet::Answer>,
}

impl Packer {
    /// A packer that remembers nothing yet.
    pub fn new() -> Self {
        Packer::default()
    }

    /// Whether pans of these outer sizes (width, depth, height, in mm) and weights (in g) fit into a cavity at the same
    /// minute: on at most `racks` racks, the tallest pan of each used rack plus `clearance` adding up to no more than the
    /// height, and all weights to no more than the limit.
    pub fn fits_cavity(&mut self, cavity: &Cavity, pans: &[[i64; 3]], weights: &[i64]) -> Fit {
        let weight: i128 = weights.iter().map(|&weight| i128::from(weight)).sum();
        if weight > i128::from(cavity.max_weight) {
            return Fit::No;
        }
        let room = Room {
            sheet: Sheet { width: cavity.width, depth: cavity.depth },
            height: cavity.height,
            racks: cavity.racks,
            clearance: cavity.clearance,
        };
        self.fits_room(room, pans)
    }

    /// Whether pans of these diameters (in mm) fit on a top at the same minute, each taking up the square of its diameter.
    pub fn fits_top(&mut self, top: &Top, diameters: &[i64]) -> Fit {
        let pans: Vec<[i64; 3]> = diameters.iter().map(|&diameter| [diameter, diameter, 1]).collect();
        let sheet = Sheet { width: top.width, depth: top.depth };
        self.fits_room(Room { sheet, height: 1, racks: 1, clearance: 0 }, &pans)
    }

    fn fits_room(&mut self, room: Room, pans: &[[i64; 3]]) -> Fit {
        if pans.is_empty() {
            return Fit::Yes(Vec::new());
        }
        // Tallest first, and each with its long side first: pans that differ in order only are one question.
        let long_side_first = |[w, d, h]: [i64; 3]| [h, w.max(d), w.min(d)];
        let mut order: Vec<usize> = (0..pans.len()).collect();
        order.sort_by_key(|&i| (std::cmp::Reverse(long_side_first(pans[i])), i));
        let sorted: Vec<[i64; 3]> = order.iter().map(|&i| long_side_first(pans[i])).collect();
        let key = (room, sorted);
        let fit = match self.rooms.get(&key) {
            Some(fit) => fit.clone(),
            None => {
                let fit = racks::fit(room, &key.1, &mut self.sheets);
                self.rooms.insert(key, fit.clone());
                fit
            }
        };
        let Fit::Yes(sorted_spots) = fit else { return fit };
        let mut spots = sorted_spots.clone();
        for (&i, spot) in order.iter().zip(sorted_spots) {
            let [width, depth, _] = pans[i];
            spots[i] = Spot { turned: spot.turned != (width < depth), ..spot };
        }
        Fit::Yes(spots)
    }
}

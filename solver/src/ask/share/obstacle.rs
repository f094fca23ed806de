//! Why pans cannot stand in one cavity side by side.

use std::fmt;

use rangewright_models::pack::{Fit, Packer};
use rangewright_models::problem::{Cavity, Heat, Mode, Step};
use serde::{Deserialize, Serialize};

/// What keeps steps from running side by side in a cavity, whichever of their modes there are chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Obstacle {
    /// One of them cannot be done in this cavity at all: it has no mode there, or none that the cavity allows.
    NoMode {
        /// The step.
        step: String,
    },
    /// Their air windows do not meet: the nearest ends are so many degrees C apart.
    Windows {
        /// The distance.
        degrees: i64,
    },
    /// They want different kinds of heat.
    Heat {
        /// What the first wants.
        first: Heat,
        /// What the second wants.
        second: Heat,
    },
    /// One gives off moist air that the other cannot stand.
    Moist,
    /// The pans do not fit, on any racks, in any order.
    Room(Crowd),
    /// Together they are heavier than the racks bear, by so many grams.
    Weight {
        /// The excess.
        grams: i64,
    },
}

/// Pans that do not fit into a cavity together, rack by rack.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Crowd {
    /// The pans, in the order of the steps: outer width, depth and height, mm.
    pub pans: Vec<[i64; 3]>,
    /// What is missing in width or depth to stand side by side on one rack, mm, turned as is best; absent for more than
    /// two pans.
    pub beside: Option<i64>,
    /// What is missing in height to stand each on a rack of its own, with the air above them, mm; absent where there are
    /// fewer racks than pans. 0 or less: the height would do.
    pub above: Option<i64>,
}

impl Obstacle {
    /// How far the steps are from sharing, to compare ways of one kind: degrees, millimetres, grams.
    fn distance(&self) -> i64 {
        match self {
            Obstacle::Windows { degrees } => *degrees,
            Obstacle::Room(crowd) => crowd.beside.into_iter().chain(crowd.above).min().unwrap_or(0),
            _ => 0,
        }
    }
}

impl fmt::Display for Obstacle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Obstacle::NoMode { step } => write!(f, "{step} cannot be done there at all"),
            Obstacle::Windows { degrees } => write!(f, "their temperatures are {degrees} degrees C apart"),
            Obstacle::Heat { first, second } => write!(f, "one wants {first:?} heat, the other {second:?}"),
            Obstacle::Moist => write!(f, "one gives off moist air that the other cannot stand"),
            Obstacle::Room(_) => write!(f, "there is no room for both"),
            Obstacle::Weight { grams } => write!(f, "together they are {grams} g too heavy for the racks"),
        }
    }
}

/// What is in the way of the pair of modes that comes nearest to sharing; empty if some pair of modes can run side by side.
///
/// Of several pairs the one with the fewest obstacles is named, and of those the one whose windows are nearest.
pub fn obstacles(cavity: &Cavity, first: &Step, second: &Step) -> Vec<Obstacle> {
    let mut packer = Packer::new();
    let mut there = |step: &Step| -> Vec<Mode> {
        step.modes.iter().filter(|mode| alone(cavity, mode, &mut packer)).cloned().collect()
    };
    let (firsts, seconds) = (there(first), there(second));
    if firsts.is_empty() || seconds.is_empty() {
        let missing = [(first, firsts.is_empty()), (second, seconds.is_empty())];
        let missing = missing.into_iter().filter(|(_, missing)| *missing);
        return missing.map(|(step, _)| Obstacle::NoMode { step: step.id.clone() }).collect();
    }
    let pairs = firsts.iter().flat_map(|a| seconds.iter().map(move |b| (a, b)));
    let found = pairs.map(|(a, b)| between(cavity, a, b, &mut packer));
    found.min_by_key(|found| (found.len(), found.iter().map(Obstacle::distance).sum::<i64>())).unwrap_or_default()
}

/// The least room that more than two steps lack, if each two of them could stand side by side and all cannot.
pub(super) fn crowd(cavity: &Cavity, steps: &[&Step]) -> Option<Crowd> {
    let mut packer = Packer::new();
    let smallest = |step: &&Step| {
        let there = step.modes.iter().filter(|mode| mode.place.as_deref() == Some(cavity.id.as_str()));
        there.filter_map(|mode| mode.pan).min_by_key(|pan| pan.iter().product::<i64>())
    };
    let pans: Vec<[i64; 3]> = steps.iter().filter_map(smallest).collect();
    let weights = vec![0; pans.len()];
    let fits = matches!(packer.fits_cavity(cavity, &pans, &weights), Fit::Yes(_));
    let above = above(cavity, &pans);
    (!fits).then_some(Crowd { pans, beside: None, above })
}

/// Whether the cavity allows this mode by itself.
pub(super) fn alone(cavity: &Cavity, mode: &Mode, packer: &mut Packer) -> bool {
    let (Some([lo, hi]), Some(heat), Some(pan)) = (mode.t, mode.heat, mode.pan) else { return false };
    mode.place.as_deref() == Some(cavity.id.as_str())
        && lo <= cavity.t_max
        && cavity.t_min <= hi
        && cavity.heats.contains(&heat)
        && packer.fits_cavity(cavity, &[pan], &[mode.weight.unwrap_or(0)]).is_yes()
}

fn between(cavity: &Cavity, a: &Mode, b: &Mode, packer: &mut Packer) -> Vec<Obstacle> {
    let mut found = Vec::new();
    if let (Some([a_lo, a_hi]), Some([b_lo, b_hi])) = (a.t, b.t) {
        let degrees = (b_lo - a_hi).max(a_lo - b_hi);
        if degrees > 0 {
            found.push(Obstacle::Windows { degrees });
        }
    }
    if let (Some(first), Some(second)) = (a.heat, b.heat)
        && first != second
    {
        found.push(Obstacle::Heat { first, second });
    }
    if a.wet && b.dry || a.dry && b.wet {
        found.push(Obstacle::Moist);
    }
    if let (Some(a_pan), Some(b_pan)) = (a.pan, b.pan) {
        let weights = [a.weight.unwrap_or(0), b.weight.unwrap_or(0)];
        let grams = weights.iter().sum::<i64>() - cavity.max_weight;
        if grams > 0 {
            found.push(Obstacle::Weight { grams });
        }
        if !packer.fits_cavity(cavity, &[a_pan, b_pan], &[0, 0]).is_yes() {
            let pans = vec![a_pan, b_pan];
            let above = above(cavity, &pans);
            found.push(Obstacle::Room(Crowd { pans, beside: beside(cavity, a_pan, b_pan), above }));
        }
    }
    found
}

/// Two rectangles in a box lie either side by side along its width or one behind the other.
fn beside(cavity: &Cavity, a: [i64; 3], b: [i64; 3]) -> Option<i64> {
    let turns = |pan: [i64; 3]| [[pan[0], pan[1]], [pan[1], pan[0]]];
    let box_ = [cavity.width, cavity.depth];
    let pairs = turns(a).into_iter().flat_map(|a| turns(b).into_iter().map(move |b| (a, b)));
    let along = pairs.flat_map(|(a, b)| {
        [0, 1].into_iter().filter_map(move |axis: usize| {
            let across = 1 - axis;
            (a[across].max(b[across]) <= box_[across]).then_some(a[axis] + b[axis] - box_[axis])
        })
    });
    along.min()
}

fn above(cavity: &Cavity, pans: &[[i64; 3]]) -> Option<i64> {
    let needed: i64 = pans.iter().map(|pan| pan[2] + cavity.clearance).sum();
    (pans.len() as i64 <= cavity.racks).then_some(needed - cavity.height)
}

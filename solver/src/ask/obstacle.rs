//! Why two pans cannot stand in one cavity side by side.

use std::fmt;

use rangewright_models::pack::{Fit, Packer};
use rangewright_models::problem::{Cavity, Heat, Mode, Step};
use serde::{Deserialize, Serialize};

/// What keeps two steps from running side by side in a cavity, whichever of their modes there are chosen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Obstacle {
    /// One of them has no mode in this cavity.
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
    Room,
    /// Together they are heavier than the racks bear, by so many grams.
    Weight {
        /// The excess.
        grams: i64,
    },
}

impl fmt::Display for Obstacle {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Obstacle::NoMode { step } => write!(f, "{step} cannot be done there at all"),
            Obstacle::Windows { degrees } => write!(f, "their temperatures are {degrees} degrees C apart"),
            Obstacle::Heat { first, second } => write!(f, "one wants {first:?} heat, the other {second:?}"),
            Obstacle::Moist => write!(f, "one gives off moist air that the other cannot stand"),
            Obstacle::Room => write!(f, "there is no room for both"),
            Obstacle::Weight { grams } => write!(f, "together they are {grams} g too heavy for the racks"),
        }
    }
}

/// What is in the way of the pair of modes that comes nearest to sharing; empty if some pair of modes can run side by side.
///
/// Of several pairs the one with the fewest obstacles is named, and of those the one whose windows are nearest.
pub fn obstacles(cavity: &Cavity, first: &Step, second: &Step) -> Vec<Obstacle> {
    let there = |step: &Step| -> Vec<Mode> {
        step.modes.iter().filter(|mode| mode.place.as_deref() == Some(cavity.id.as_str())).cloned().collect()
    };
    let (firsts, seconds) = (there(first), there(second));
    if firsts.is_empty() || seconds.is_empty() {
        let missing = [(first, firsts.is_empty()), (second, seconds.is_empty())];
        let missing = missing.into_iter().filter(|(_, missing)| *missing);
        return missing.map(|(step, _)| Obstacle::NoMode { step: step.id.clone() }).collect();
    }
    let mut packer = Packer::new();
    let pairs = firsts.iter().flat_map(|a| seconds.iter().map(move |b| (a, b)));
    let found = pairs.map(|(a, b)| between(cavity, a, b, &mut packer));
    found.min_by_key(|found| (found.len(), found.iter().map(distance).sum::<i64>())).unwrap_or_default()
}

fn distance(obstacle: &Obstacle) -> i64 {
    if let Obstacle::Windows { degrees } = obstacle { *degrees } else { 0 }
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
        if !matches!(packer.fits_cavity(cavity, &[a_pan, b_pan], &[0, 0]), Fit::Yes(_)) {
            found.push(Obstacle::Room);
        }
    }
    found
}

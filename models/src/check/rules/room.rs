//! The pans in a cavity fit on its racks and are not too heavy together.

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::pack::{Fit, Packer};
use crate::problem::Minute;

use super::stands::{Inside, stands};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let mut packer = Packer::new();
    for (cavity, runs) in facts.cavities() {
        let intervals: Vec<[Minute; 2]> = runs.iter().map(|run| [run.start, run.end]).collect();
        let place = || cavity.id.clone();
        let named = |running: Vec<usize>| super::ids(running.iter().map(|&run| &runs[run]));
        let too_heavy = super::sweep::clashes(&intervals, |running| {
            let weight: i64 = running.iter().filter_map(|&run| runs[run].mode.weight).sum();
            (weight > cavity.max_weight).then_some(weight)
        });
        for (minute, running, weight) in too_heavy {
            let (max_weight, steps) = (cavity.max_weight, named(running));
            violations.push(Violation::Weight { place: place(), minute, weight, max_weight, steps });
        }
        let inside = Inside {
            width: cavity.width,
            depth: cavity.depth,
            height: cavity.height,
            racks: cavity.racks,
            clearance: cavity.clearance,
        };
        let too_many = super::sweep::clashes(&intervals, |running| {
            let pans: Vec<[i64; 3]> = running.iter().filter_map(|&run| runs[run].mode.pan).collect();
            match packer.fits_cavity(cavity, &pans, &[]) {
                Fit::Yes(spots) if stands(&inside, &pans, &spots) => None,
                Fit::No => Some(true),
                Fit::Yes(_) | Fit::Unknown => Some(false),
            }
        });
        for (minute, running, proved) in too_many {
            let steps = named(running);
            violations.push(match proved {
                true => Violation::Room { place: place(), minute, steps },
                false => Violation::RoomUnknown { place: place(), minute, steps },
            });
        }
    }
}

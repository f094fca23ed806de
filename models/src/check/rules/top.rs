//! The squares of the pans' diameters fit side by side on a top.

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::pack::{Fit, Packer};
use crate::problem::{Minute, Place};

use super::stands::{Inside, stands};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    for (i, place) in facts.problem.places.iter().enumerate() {
        let Place::Top(top) = place else { continue };
        let plate = Inside { width: top.width, depth: top.depth, height: 1, racks: 1, clearance: 0 };
        let runs = facts.runs_in(i);
        let intervals: Vec<[Minute; 2]> = runs.iter().map(|run| [run.start, run.end]).collect();
        let mut packer = Packer::new();
        let clashes = super::sweep::clashes(&intervals, |running| {
            let diameters: Vec<i64> = running.iter().filter_map(|&run| runs[run].mode.diameter).collect();
            let pans: Vec<[i64; 3]> = diameters.iter().map(|&diameter| [diameter, diameter, 1]).collect();
            match packer.fits_top(top, &diameters) {
                Fit::Yes(spots) if stands(&plate, &pans, &spots) => None,
                Fit::No => Some(true),
                Fit::Yes(_) | Fit::Unknown => Some(false),
            }
        });
        for (minute, running, proved) in clashes {
            let steps = super::ids(running.iter().map(|&run| &runs[run]));
            let place = top.id.clone();
            violations.push(match proved {
                true => Violation::Top { place, minute, steps },
                false => Violation::RoomUnknown { place, minute, steps },
            });
        }
    }
}

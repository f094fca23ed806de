//! From runs to pans in spots: in a cavity over its shelves, on a top side by side.

use super::burners::on_the_dial;
use super::data::{Spot, TopDay, TopSpot, Unmet};
use super::running::{Run, Runs};
use super::shelves::{Pan, Room, arrange};
use crate::pack::Packer;
use crate::problem::{Cavity, Top};

/// Where each pan of a cavity stands, and the wishes that are not met. A pan that stays in from one step to the next is
/// one pan.
pub(super) fn in_cavity(cavity: &Cavity, here: &[Run<'_>], runs: &Runs<'_>) -> (Vec<Spot>, Vec<Unmet>) {
    let mut pans: Vec<Pan> = Vec::new();
    let mut steps: Vec<Vec<Run<'_>>> = Vec::new();
    for &run in here {
        let size = run.mode.pan.unwrap_or([1, 1, 1]);
        let stays_from = runs.stays.get(run.id()).copied();
        let same = |(index, own): (usize, &Vec<Run<'_>>)| {
            let last = own.last().is_some_and(|last| Some(last.id()) == stays_from && last.end == run.start);
            (last && pans[index].size == size).then_some(index)
        };
        if let Some(index) = steps.iter().enumerate().find_map(same) {
            pans[index].until = run.end;
            pans[index].wish = pans[index].wish.or(run.mode.rack);
            steps[index].push(run);
        } else {
            pans.push(Pan { from: run.start, until: run.end, size, wish: run.mode.rack });
            steps.push(vec![run]);
        }
    }
    let room = Room {
        width: cavity.width,
        depth: cavity.depth,
        height: cavity.height,
        clearance: cavity.clearance,
        racks: usize::try_from(cavity.racks).unwrap_or(1),
    };
    let (mut spots, mut unmet) = (Vec::new(), Vec::new());
    let mut packer = Packer::new();
    for stand in arrange(room, &pans, |sizes| packer.fits_cavity(cavity, sizes, &vec![0; sizes.len()])) {
        let [mut width, mut depth, _] = pans[stand.pan].size;
        if stand.corner.turned {
            (width, depth) = (depth, width);
        }
        let wish = pans[stand.pan].wish;
        for run in steps[stand.pan].iter().filter(|run| run.start < stand.until && stand.from < run.end) {
            let from = run.start.max(stand.from);
            spots.push(Spot {
                step: run.id().to_owned(),
                from,
                until: run.end.min(stand.until),
                shelf: stand.shelf,
                height: stand.height,
                floor: stand.floor,
                x: stand.corner.x,
                y: stand.corner.y,
                width,
                depth,
                turned: stand.corner.turned,
                shifted: stand.shifted && from == stand.from,
            });
            if let Some(wish) = wish.filter(|wish| run.mode.rack.is_some() && *wish != stand.height) {
                let new = Unmet { step: run.id().to_owned(), wish, got: stand.height };
                if !unmet.contains(&new) {
                    unmet.push(new);
                }
            }
        }
    }
    spots.sort_by(|a, b| (a.from, &a.step).cmp(&(b.from, &b.step)));
    (spots, unmet)
}

/// Where each pan of a top stands.
pub(super) fn on_top(top: &Top, here: &[Run<'_>]) -> TopDay {
    let pan = |run: &Run<'_>| {
        let side = run.mode.diameter.unwrap_or(1);
        Pan { from: run.start, until: run.end, size: [side, side, 1], wish: None }
    };
    let pans: Vec<Pan> = here.iter().map(pan).collect();
    let room = Room { width: top.width, depth: top.depth, height: 1, clearance: 0, racks: 1 };
    let spot = |stand: super::shelves::Stand| TopSpot {
        step: here[stand.pan].id().to_owned(),
        from: stand.from,
        until: stand.until,
        x: stand.corner.x,
        y: stand.corner.y,
        diameter: pans[stand.pan].size[0],
        level: on_the_dial(here[stand.pan].mode.level, top.scale),
    };
    let mut packer = Packer::new();
    let diameters = |sizes: &[[i64; 3]]| sizes.iter().map(|size| size[0]).collect::<Vec<_>>();
    let stands = arrange(room, &pans, |sizes| packer.fits_top(top, &diameters(sizes)));
    TopDay { place: top.id.clone(), spots: stands.into_iter().map(spot).collect() }
}

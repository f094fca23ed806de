//! Pans in one cavity or on one top: air, room and shut doors.

use rangewright_models::oven::changeover;
use rangewright_models::pack::Packer;
use rangewright_models::problem::{Minute, Mode, Place};

use super::{Arc, Order, Tie, Touches, end, start};

pub(super) fn arcs(order: &Order<'_>, touches: Touches, wishes: &mut Vec<Arc>) {
    let mut packer = Packer::new();
    for place in &order.problem.places {
        let guests = order.guests_of(place);
        for &first in &guests {
            for &second in guests.iter().filter(|&&second| second != first) {
                if order.planned[end(first)] > order.planned[start(second)] {
                    continue;
                }
                if let Some(least) = apart(order, place, &guests, first, second, &mut packer) {
                    wishes.push(Arc { from: end(first), to: start(second), least, tie: Tie::Place });
                }
            }
        }
        if let Place::Cavity(_) = place {
            doors(order, &guests, touches, wishes);
        }
    }
}

/// The minutes between two steps that cannot be in at the same time; none if they can.
fn apart(
    order: &Order<'_>,
    place: &Place,
    guests: &[usize],
    first: usize,
    second: usize,
    packer: &mut Packer,
) -> Option<Minute> {
    let (a, b) = (order.runs[first].mode, order.runs[second].mode);
    // All that are in between the two: if they fit together, so does any of them with any other.
    let [from, to] = [order.planned[start(first)], order.planned[end(second)]];
    let between = guests.iter().filter(|&&step| order.planned[start(step)] < to && from < order.planned[end(step)]);
    let between: Vec<&Mode> = between.map(|&step| order.runs[step].mode).collect();
    match place {
        Place::Cavity(cavity) => {
            let (own, other) = (&order.runs[first].step.id, &order.runs[second].step.id);
            if order.problem.links.iter().any(|link| link.stay && link.from == *own && link.to == *other) {
                return None;
            }
            let clash = a.heat != b.heat || a.wet && b.dry || a.dry && b.wet;
            let pans: Vec<[i64; 3]> = between.iter().filter_map(|mode| mode.pan).collect();
            let weights: Vec<i64> = between.iter().filter_map(|mode| mode.weight).collect();
            match changeover(cavity, a.t?, b.t?) {
                Some(minutes) => Some(minutes),
                None if clash || !packer.fits_cavity(cavity, &pans, &weights).is_yes() => Some(0),
                None => None,
            }
        }
        Place::Top(top) => {
            let pans: Vec<i64> = between.iter().filter_map(|mode| mode.diameter).collect();
            (!packer.fits_top(top, &pans).is_yes()).then_some(0)
        }
        // Burners have numbers: see the order of the pans on each.
        Place::Hob(_) => None,
    }
}

/// Nobody else opens a door while it stays shut.
fn doors(order: &Order<'_>, guests: &[usize], touches: Touches, wishes: &mut Vec<Arc>) {
    for &shut in guests.iter().filter(|&&step| order.runs[step].mode.shut > 0) {
        let (closes, minutes) = (order.planned[start(shut)], order.runs[shut].mode.shut);
        for &other in guests.iter().filter(|&&other| other != shut) {
            let mut openings = vec![(start(other), 0), (end(other), 0)];
            if touches == Touches::Count {
                let run = &order.runs[other];
                let touches = run.mode.touches.iter().enumerate().filter(|(_, touch)| touch.minutes > 0);
                openings.extend(touches.map(|(index, touch)| (start(other), run.planned.touched(index, touch))));
            }
            for (event, offset) in openings {
                let arc = if order.planned[event] + offset <= closes {
                    Arc { from: event, to: start(shut), least: offset, tie: Tie::Place }
                } else {
                    Arc { from: start(shut), to: event, least: minutes - offset, tie: Tie::Place }
                };
                wishes.push(arc);
            }
        }
    }
}

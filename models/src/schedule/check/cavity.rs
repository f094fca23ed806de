//! Racks, dials and doors.

use super::{Book, Entry, Unsound, covers};
use crate::problem::{Cavity, Minute};
use crate::schedule::{CavityDay, Schedule, Setting, Spot};

pub(super) fn check(book: &Book<'_>, cavity: &Cavity, day: &Schedule, faults: &mut Vec<Unsound>) {
    let Some(day) = day.cavities.iter().find(|day| day.place == cavity.id) else {
        faults.push(Unsound::NoDay { place: cavity.id.clone() });
        return;
    };
    let here = book.at(&cavity.id);
    pans_have_spots(&here, day, faults);
    pans_stand_inside(book, cavity, day, faults);
    pans_do_not_overlap(book, cavity, day, faults);
    the_air_is_right(book, cavity, &here, day, faults);
    doors_open_and_stay_shut(book, &here, day, faults);
}

fn pans_have_spots(here: &[Entry<'_>], day: &CavityDay, faults: &mut Vec<Unsound>) {
    for entry in here {
        let own = day.spots.iter().filter(|spot| spot.step == entry.step.id);
        if !covers(own.map(|spot| [spot.from, spot.until]).collect(), entry.planned.start, entry.planned.end) {
            faults.push(Unsound::NoSpot { step: entry.step.id.clone() });
        }
    }
}

/// The height of the pan in a spot.
fn tall(book: &Book<'_>, spot: &Spot) -> i64 {
    book.entries.get(spot.step.as_str()).and_then(|entry| entry.mode.pan).map_or(0, |pan| pan[2])
}

fn pans_stand_inside(book: &Book<'_>, cavity: &Cavity, day: &CavityDay, faults: &mut Vec<Unsound>) {
    for spot in &day.spots {
        let pan = book.entries.get(spot.step.as_str()).and_then(|entry| entry.mode.pan).unwrap_or_default();
        let size = if spot.turned { [pan[1], pan[0]] } else { [pan[0], pan[1]] };
        let inside = spot.x >= 0
            && spot.y >= 0
            && spot.floor >= 0
            && spot.x + spot.width <= cavity.width
            && spot.y + spot.depth <= cavity.depth
            && spot.floor + pan[2] + cavity.clearance <= cavity.height;
        if !inside || size != [spot.width, spot.depth] {
            faults.push(Unsound::Outside { step: spot.step.clone(), place: cavity.id.clone() });
        }
    }
}

fn pans_do_not_overlap(book: &Book<'_>, cavity: &Cavity, day: &CavityDay, faults: &mut Vec<Unsound>) {
    for (index, a) in day.spots.iter().enumerate() {
        for b in day.spots[index + 1..].iter().filter(|b| a.from < b.until && b.from < a.until) {
            let beside = a.x + a.width <= b.x || b.x + b.width <= a.x || a.y + a.depth <= b.y || b.y + b.depth <= a.y;
            let above = |low: &Spot, high: &Spot| low.floor + tall(book, low) + cavity.clearance <= high.floor;
            if !(if a.floor == b.floor { beside } else { above(a, b) || above(b, a) }) {
                let (one, other, place) = (a.step.clone(), b.step.clone(), cavity.id.clone());
                faults.push(Unsound::InTheWay { one, other, place });
            }
        }
        let mut floors: Vec<i64> =
            day.spots.iter().filter(|b| b.from <= a.from && a.from < b.until).map(|b| b.floor).collect();
        floors.sort_unstable();
        floors.dedup();
        if i64::try_from(floors.len()).is_ok_and(|shelves| shelves > cavity.racks) {
            faults.push(Unsound::TooManyRacks { place: cavity.id.clone(), racks: floors.len(), at: a.from });
        }
    }
}

/// What an oven that is off falls to, in tenths of a degree (common practice, no source).
const ROOM_AIR: i64 = 200;

/// Lets the air follow the dial minute by minute, in tenths of a degree, and compares it with every window.
fn the_air_is_right(book: &Book<'_>, cavity: &Cavity, here: &[Entry<'_>], day: &CavityDay, faults: &mut Vec<Unsound>) {
    for pair in day.settings.windows(2).filter(|pair| pair[1].at <= pair[0].at) {
        faults.push(Unsound::TurnedTwice { place: cavity.id.clone(), at: pair[1].at });
    }
    let opening = book.problem.opening;
    let end = here.iter().map(|entry| entry.planned.end).max().unwrap_or(opening);
    let mut air = 10 * cavity.t_open;
    let mut dial: Option<&Setting> = None;
    let mut settings = day.settings.iter().peekable();
    for minute in opening..=end {
        // What is in until this minute must still have had it before the dial is turned.
        for entry in here {
            window_holds(book, cavity, entry, minute, air, faults);
        }
        while let Some(next) = settings.next_if(|next| next.at <= minute) {
            dial = Some(next);
        }
        let inside = |entry: &&Entry<'_>| entry.planned.start <= minute && minute < entry.planned.end;
        for entry in here.iter().filter(inside) {
            if entry.mode.heat.is_some() && dial.and_then(|dial| dial.heat) != entry.mode.heat {
                faults.push(Unsound::WrongHeat { step: entry.step.id.clone(), at: minute });
            }
        }
        let target = dial.and_then(|dial| dial.degrees).map_or(air.min(ROOM_AIR), |degrees| 10 * degrees);
        let way = target - air;
        air += way.clamp(-cavity.fall, cavity.rise);
    }
}

fn window_holds(
    book: &Book<'_>,
    cavity: &Cavity,
    entry: &Entry<'_>,
    minute: Minute,
    air: i64,
    faults: &mut Vec<Unsound>,
) {
    let Some([low, high]) = entry.mode.t else { return };
    let earlier = book.stays_from(&entry.step.id).and_then(|earlier| earlier.mode.t);
    let from = match earlier {
        Some([before_low, before_high]) => {
            let minutes = |degrees: i64, rate: i64| (10 * degrees.max(0) + rate - 1) / rate.max(1);
            entry.planned.start + minutes(low - before_low, cavity.rise).max(minutes(before_high - high, cavity.fall))
        }
        None => (entry.planned.start - cavity.settle).max(book.problem.opening),
    };
    if (from..=entry.planned.end).contains(&minute) && !(10 * low..=10 * high).contains(&air) {
        let air = air / 10;
        faults.push(Unsound::WrongAir { step: entry.step.id.clone(), low, high, at: minute, air });
    }
}

fn doors_open_and_stay_shut(book: &Book<'_>, here: &[Entry<'_>], day: &CavityDay, faults: &mut Vec<Unsound>) {
    let opens = |at: Minute| day.doors.iter().any(|door| door.at == at);
    for entry in here {
        let id = &entry.step.id;
        let stays_to = book.problem.links.iter().any(|link| link.stay && link.from == *id);
        if book.stays_from(id).is_none() && !opens(entry.planned.start) || !stays_to && !opens(entry.planned.end) {
            faults.push(Unsound::DoorStaysShut { step: id.clone() });
        }
        let shut = entry.planned.start + 1..entry.planned.start + entry.mode.shut;
        let own = |step: &String| step == id;
        for door in day.doors.iter().filter(|door| shut.contains(&door.at)) {
            if !door.touches.iter().any(own) && !door.takes_out.iter().any(own) {
                faults.push(Unsound::DoorOpens { step: id.clone(), at: door.at });
            }
        }
    }
}

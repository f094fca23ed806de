//! Burners and tops.

use super::{Book, Unsound, covers};
use crate::problem::{Hob, Top};
use crate::schedule::Schedule;

pub(super) fn one_pan_each(book: &Book<'_>, hob: &Hob, day: &Schedule, faults: &mut Vec<Unsound>) {
    let Some(day) = day.hobs.iter().find(|day| day.place == hob.id) else {
        faults.push(Unsound::NoDay { place: hob.id.clone() });
        return;
    };
    for entry in book.at(&hob.id) {
        let own = day.spots.iter().filter(|spot| spot.step == entry.step.id);
        if !covers(own.map(|spot| [spot.from, spot.until]).collect(), entry.planned.start, entry.planned.end) {
            faults.push(Unsound::NoSpot { step: entry.step.id.clone() });
        }
    }
    for (index, a) in day.spots.iter().enumerate() {
        if !i64::try_from(a.burner).is_ok_and(|burner| (1..=hob.count).contains(&burner)) {
            faults.push(Unsound::NoBurner { place: hob.id.clone(), burner: a.burner });
        }
        for b in &day.spots[index + 1..] {
            if a.burner == b.burner && a.from < b.until && b.from < a.until {
                let (one, other, place) = (a.step.clone(), b.step.clone(), hob.id.clone());
                faults.push(Unsound::OneBurner { one, other, place });
            }
        }
    }
}

pub(super) fn side_by_side(book: &Book<'_>, top: &Top, day: &Schedule, faults: &mut Vec<Unsound>) {
    let Some(day) = day.tops.iter().find(|day| day.place == top.id) else {
        faults.push(Unsound::NoDay { place: top.id.clone() });
        return;
    };
    for entry in book.at(&top.id) {
        let own = day.spots.iter().filter(|spot| spot.step == entry.step.id);
        if !covers(own.map(|spot| [spot.from, spot.until]).collect(), entry.planned.start, entry.planned.end) {
            faults.push(Unsound::NoSpot { step: entry.step.id.clone() });
        }
    }
    for (index, a) in day.spots.iter().enumerate() {
        if a.x < 0 || a.y < 0 || a.x + a.diameter > top.width || a.y + a.diameter > top.depth {
            faults.push(Unsound::Outside { step: a.step.clone(), place: top.id.clone() });
        }
        for b in day.spots[index + 1..].iter().filter(|b| a.from < b.until && b.from < a.until) {
            let across = a.x + a.diameter <= b.x || b.x + b.diameter <= a.x;
            let along = a.y + a.diameter <= b.y || b.y + b.diameter <= a.y;
            if !across && !along {
                let (one, other, place) = (a.step.clone(), b.step.clone(), top.id.clone());
                faults.push(Unsound::InTheWay { one, other, place });
            }
        }
    }
}

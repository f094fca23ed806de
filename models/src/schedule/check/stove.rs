//! Burners and tops.

use super::{Book, covers};
use crate::problem::{Hob, Top};
use crate::schedule::Schedule;

pub(super) fn one_pan_each(book: &Book<'_>, hob: &Hob, day: &Schedule, faults: &mut Vec<String>) {
    let Some(day) = day.hobs.iter().find(|day| day.place == hob.id) else {
        faults.push(format!("hob \"{}\" is missing", hob.id));
        return;
    };
    for entry in book.at(&hob.id) {
        let own = day.spots.iter().filter(|spot| spot.step == entry.step.id);
        if !covers(own.map(|spot| [spot.from, spot.until]).collect(), entry.planned.start, entry.planned.end) {
            faults.push(format!("\"{}\" has not exactly one burner at each minute", entry.step.id));
        }
    }
    for (index, a) in day.spots.iter().enumerate() {
        if !i64::try_from(a.burner).is_ok_and(|burner| (1..=hob.count).contains(&burner)) {
            faults.push(format!("\"{}\" has no burner {}", hob.id, a.burner));
        }
        for b in &day.spots[index + 1..] {
            if a.burner == b.burner && a.from < b.until && b.from < a.until {
                faults.push(format!("\"{}\" and \"{}\" are on one burner of \"{}\"", a.step, b.step, hob.id));
            }
        }
    }
}

pub(super) fn side_by_side(book: &Book<'_>, top: &Top, day: &Schedule, faults: &mut Vec<String>) {
    let Some(day) = day.tops.iter().find(|day| day.place == top.id) else {
        faults.push(format!("top \"{}\" is missing", top.id));
        return;
    };
    for entry in book.at(&top.id) {
        let own = day.spots.iter().filter(|spot| spot.step == entry.step.id);
        if !covers(own.map(|spot| [spot.from, spot.until]).collect(), entry.planned.start, entry.planned.end) {
            faults.push(format!("\"{}\" has not exactly one spot at each minute", entry.step.id));
        }
    }
    for (index, a) in day.spots.iter().enumerate() {
        if a.x < 0 || a.y < 0 || a.x + a.diameter > top.width || a.y + a.diameter > top.depth {
            faults.push(format!("\"{}\" does not stand inside \"{}\"", a.step, top.id));
        }
        for b in day.spots[index + 1..].iter().filter(|b| a.from < b.until && b.from < a.until) {
            let across = a.x + a.diameter <= b.x || b.x + b.diameter <= a.x;
            let along = a.y + a.diameter <= b.y || b.y + b.diameter <= a.y;
            if !across && !along {
                faults.push(format!("\"{}\" and \"{}\" are in each other's way on \"{}\"", a.step, b.step, top.id));
            }
        }
    }
}

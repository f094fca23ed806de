//! Basting, stirring and probing within the program: at a minute of their own if they float, else so long after the start.

use rangewright_models::problem::{Minute, Place};
use rangewright_models::schedule::{Schedule, What};

use super::room::{Moment, Room};
use crate::order::{end, start};

/// One touch of a step.
pub(super) struct Touched {
    pub(super) step: usize,
    pub(super) index: usize,
    pub(super) at: Moment,
    pub(super) floats: bool,
    planned: Minute,
    minutes: Minute,
    /// May be done beside whole work of the same cook.
    passing: bool,
    cook: Option<usize>,
}

/// Work of one cook.
struct Piece {
    begin: (Minute, Moment),
    finish: (Minute, Moment),
    /// A whole step, beside which something may be done in passing.
    whole: bool,
}

/// All touches of the day, with their rows.
pub(super) fn all(room: &mut Room<'_, '_>, day: &Schedule, spans: &[[Minute; 2]]) -> Vec<Touched> {
    let mut touches = Vec::new();
    for job in &day.jobs {
        let What::Touch { step, index } = &job.what else { continue };
        let Some(step) = room.order.index(step) else { continue };
        touches.extend(one(room, step, *index, job.cooks.first().copied(), spans));
    }
    for touched in &touches {
        hands(room, touched, &touches);
        doors(room, touched);
    }
    touches
}

fn one(
    room: &mut Room<'_, '_>,
    step: usize,
    index: usize,
    cook: Option<usize>,
    spans: &[[Minute; 2]],
) -> Option<Touched> {
    let run = &room.order.runs[step];
    let touch = *run.mode.touches.get(index)?;
    let offset = run.planned.touched(index, &touch);
    let (planned, inside) = (run.planned.start + offset, run.planned.start + offset + touch.minutes <= run.planned.end);
    let begun = room.moments[start(step)];
    let at = if touch.floats() {
        let [first, last] = [(touch.at - touch.early).max(0).min(offset), (touch.at + touch.late).max(offset)];
        let [lo, hi] = spans[start(step)];
        let at = room.moment((lo + first).min(planned), (hi + last).max(planned), planned);
        room.after(begun, at, first);
        room.after(at, begun, -last);
        at
    } else {
        begun.plus(offset)
    };
    if inside {
        let ended = room.moments[end(step)];
        room.after(at, ended, touch.minutes);
    }
    let spell = cook.and_then(|cook| room.order.present.get(cook)).and_then(|present| {
        let spell = present.iter().find(|[comes, leaves]| *comes <= planned && planned + touch.minutes <= *leaves);
        spell.copied()
    });
    if let Some([comes, leaves]) = spell {
        room.milp.at_least(&[(at.column, 1)], comes - at.base);
        room.milp.at_most(&[(at.column, 1)], leaves - touch.minutes - at.base);
    }
    let (floats, minutes, passing) = (touch.floats(), touch.minutes, touch.passing);
    Some(Touched { step, index, at, floats, planned, minutes, passing, cook })
}

/// Between what the same cook does before it and what comes after.
fn hands(room: &mut Room<'_, '_>, touched: &Touched, all: &[Touched]) {
    let Some(cook) = touched.cook else { return };
    let place =
        |(event, offset): (usize, Minute)| (room.order.planned[event] + offset, room.moments[event].plus(offset));
    let own = room.order.pieces.iter().filter(|piece| piece.cook == cook).map(|piece| Piece {
        begin: place(piece.begin),
        finish: place(piece.finish),
        whole: piece.begin.0 != piece.finish.0,
    });
    let others = all.iter().filter(|other| other.cook == Some(cook)).filter(|other| !std::ptr::eq(*other, touched));
    let others = others.map(|other| Piece {
        begin: (other.planned, other.at),
        finish: (other.planned + other.minutes, other.at.plus(other.minutes)),
        whole: false,
    });
    let beside = |piece: &Piece| touched.passing && piece.whole;
    let pieces: Vec<Piece> = own.chain(others).filter(|piece| !beside(piece)).collect();
    let (begin, finish) = (touched.planned, touched.planned + touched.minutes);
    let before = pieces.iter().filter(|piece| piece.finish.0 <= begin).max_by_key(|piece| piece.finish.0);
    let after = pieces.iter().filter(|piece| finish <= piece.begin.0).min_by_key(|piece| piece.begin.0);
    if let Some(before) = before {
        room.after(before.finish.1, touched.at, 0);
    }
    if let Some(after) = after {
        room.after(touched.at, after.begin.1, touched.minutes);
    }
}

/// A door that stays shut is not opened for it.
fn doors(room: &mut Room<'_, '_>, touched: &Touched) {
    let home = room.order.runs[touched.step].mode.place.clone();
    let cavity = room
        .order
        .problem
        .places
        .iter()
        .find(|place| matches!(place, Place::Cavity(_)) && Some(place.id()) == home.as_deref());
    let Some(cavity) = cavity else { return };
    for shut in room.order.guests_of(cavity).into_iter().filter(|&step| step != touched.step) {
        let (closes, minutes) = (room.order.planned[start(shut)], room.order.runs[shut].mode.shut);
        let closed = room.moments[start(shut)];
        match () {
            _ if minutes == 0 => {}
            _ if touched.planned <= closes => room.after(touched.at, closed, 0),
            _ => room.after(closed, touched.at, minutes),
        }
    }
}

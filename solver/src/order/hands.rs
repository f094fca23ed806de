//! One cook, one piece of work after the other.

use rangewright_models::schedule::{Schedule, What};

use rangewright_models::problem::Minute;

use super::{Arc, Event, MOMENT, Order, Piece, Tie, Touches, end, start};

/// The pieces of hands-on work as the schedule gives them to the cooks, in order of time.
pub(super) fn pieces(order: &Order<'_>, day: &Schedule, touches: Touches) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for job in day.jobs.iter().filter(|job| job.what.busy()) {
        let moment = !matches!(job.what, What::Work { .. }) && job.until - job.at <= MOMENT;
        let touch = matches!(job.what, What::Touch { .. });
        if touches != Touches::Count && touch || touches == Touches::Short && moment {
            continue;
        }
        let Some(step) = job.what.step().and_then(|step| order.index(step)) else { continue };
        let planned = order.runs[step].planned;
        // Taking out hangs on the end, everything else on the start; whole work ends with the step.
        let begin = match job.what {
            What::TakeOut { .. } => (end(step), job.at - planned.end),
            _ => (start(step), job.at - planned.start),
        };
        let finish = match job.what {
            What::TakeOut { .. } => (end(step), job.until - planned.end),
            What::Work { .. } if job.until == planned.end => (end(step), 0),
            _ => (start(step), job.until - planned.start),
        };
        pieces.extend(job.cooks.iter().map(|&cook| Piece { cook, begin, finish }));
    }
    pieces
}

/// Each piece waits for the one before it of the same cook.
pub(super) fn arcs(order: &Order<'_>, wishes: &mut Vec<Arc>) {
    for cook in 0..order.present.len() {
        let own: Vec<&Piece> = order.pieces.iter().filter(|piece| piece.cook == cook).collect();
        for pair in own.windows(2) {
            let ((from, after), (to, before)) = (pair[0].finish, pair[1].begin);
            wishes.push(Arc { from, to, least: after - before, tie: Tie::Hands });
        }
    }
}

/// The same pieces in the order of other minutes: each goes to its own cook if that one is free by then, else to whoever
/// is, else to who is free first.
pub(super) fn resequenced(order: &Order<'_>, at: &[Minute]) -> (Vec<Piece>, Vec<Arc>) {
    let minute = |(event, offset): (Event, Minute)| at[event] + offset;
    let mut pieces = order.pieces.clone();
    pieces.sort_by_key(|piece| (minute(piece.begin), minute(piece.finish), piece.begin));
    let mut last: Vec<Option<Piece>> = vec![None; order.present.len()];
    let mut arcs = Vec::new();
    for piece in &mut pieces {
        let (begin, finish) = (minute(piece.begin), minute(piece.finish));
        let free_at = |cook: usize| last[cook].map_or(Minute::MIN, |own: Piece| minute(own.finish));
        let there = |cook: usize| order.present[cook].iter().any(|&[comes, leaves]| comes <= begin && finish <= leaves);
        let cooks = 0..last.len();
        let able = cooks.min_by_key(|&cook| (!there(cook), free_at(cook).max(begin), cook != piece.cook, cook));
        let Some(cook) = able else { continue };
        if let Some(before) = last[cook] {
            let ((from, after), (to, offset)) = (before.finish, piece.begin);
            if from != to {
                arcs.push(Arc { from, to, least: after - offset, tie: Tie::Hands });
            }
        }
        piece.cook = cook;
        last[cook] = Some(*piece);
    }
    (pieces, arcs)
}

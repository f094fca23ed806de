//! One cook, one piece of work after the other.

use rangewright_models::schedule::{Schedule, What};

use super::{Arc, Order, Piece, Tie, Touches, end, start};

/// The pieces of hands-on work as the schedule gives them to the cooks, in order of time.
pub(super) fn pieces(order: &Order<'_>, day: &Schedule, touches: Touches) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for job in day.jobs.iter().filter(|job| job.what.busy()) {
        if touches == Touches::Pass && matches!(job.what, What::Touch { .. }) {
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

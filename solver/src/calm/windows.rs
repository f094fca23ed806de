//! When each event of a plan may be, if only minutes move.

use rangewright_models::problem::Minute;

use crate::instance::Instance;
use crate::order::{Order, end, start};

/// When each event may be: by its links, its food and whoever does it; servings when they are.
pub(super) fn spans(order: &Order<'_>, instance: &Instance<'_>) -> Vec<[Minute; 2]> {
    let mut spans: Vec<[Minute; 2]> = order.planned.iter().map(|&minute| [minute; 2]).collect();
    for (step, run) in order.runs.iter().enumerate() {
        let source = &instance.steps[step];
        let ready = source
            .modes
            .iter()
            .find(|mode| mode.source == run.planned.mode)
            .map_or(instance.horizon, |mode| mode.ready);
        let (starts, ends) = (instance.windows.start[step], instance.windows.end[step]);
        spans[start(step)] = [starts.lo.max(ready).into(), starts.hi.into()];
        spans[end(step)] = [ends.lo.into(), ends.hi.into()];
    }
    for piece in &order.pieces {
        let ends = [piece.begin, piece.finish];
        let [begin, finish] = ends.map(|(event, offset)| order.planned[event] + offset);
        let spell = order
            .present
            .get(piece.cook)
            .and_then(|present| present.iter().find(|[comes, leaves]| *comes <= begin && finish <= *leaves));
        let [comes, leaves] = spell.copied().unwrap_or([begin, finish]);
        for (event, offset) in ends {
            let [lo, hi] = &mut spans[event];
            (*lo, *hi) = ((*lo).max(comes - offset), (*hi).min(leaves - offset));
        }
    }
    // The plan is one of those that are possible, whatever was concluded.
    for (span, &planned) in spans.iter_mut().zip(&order.planned) {
        *span = [span[0].min(planned), span[1].max(planned)];
    }
    // The end of what cannot give has no column of its own.
    for (step, run) in order.runs.iter().enumerate().filter(|(_, run)| run.mode.min == run.mode.max) {
        let [lo, hi] = spans[end(step)].map(|minute| minute - run.mode.min);
        let span = &mut spans[start(step)];
        *span = [span[0].max(lo), span[1].min(hi)];
    }
    spans
}

//! At each minute no more hands are busy than are there. Outside the shifts there are none, so a piece of work that is
//! covered at each of its minutes lies in a run of touching shifts that all have enough.

use crate::check::facts::{Facts, Run};
use crate::check::violation::Violation;
use crate::problem::Minute;

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let pieces: Vec<(&Run<'_>, [Minute; 2], i64)> =
        facts.runs.iter().flat_map(|run| pieces(run).map(move |(interval, hands)| (run, interval, hands))).collect();
    let intervals: Vec<[Minute; 2]> = pieces.iter().map(|&(_, interval, _)| interval).collect();
    let mut shifts = facts.problem.shifts.clone();
    shifts.retain(|shift| shift.start < shift.end);
    shifts.sort_by_key(|shift| shift.start);
    let there_at = |minute: Minute| {
        let next = shifts.partition_point(|shift| shift.start <= minute);
        shifts[..next].last().filter(|shift| minute < shift.end).map_or(0, |shift| shift.hands)
    };
    let changes = shifts.iter().flat_map(|shift| [shift.start, shift.end]);
    let mut short = false;
    super::sweep::sweep(&intervals, changes, |minute, running| {
        let needed: i64 = running.iter().map(|&piece| pieces[piece].2).sum();
        let there = there_at(minute);
        if needed > there && !short {
            let mut steps = super::ids(running.iter().map(|&piece| pieces[piece].0));
            steps.dedup();
            violations.push(Violation::Hands { minute, needed, there, steps });
        }
        short = needed > there;
    });
}

/// When a step needs how many hands.
fn pieces<'a>(run: &'a Run<'_>) -> impl Iterator<Item = ([Minute; 2], i64)> + 'a {
    let mode = run.mode;
    let ends = [
        ([run.start, run.end], mode.hands),
        ([run.start, run.start + mode.load], 1),
        ([run.end - mode.unload, run.end], 1),
    ];
    let touches = mode.touches.iter().map(|&[offset, minutes]| {
        let from = run.start + offset;
        ([from, from + minutes], 1)
    });
    ends.into_iter().chain(touches).filter(|&([from, to], hands)| hands > 0 && from < to)
}

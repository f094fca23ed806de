//! At each minute no more hands are busy than are there. Outside the shifts there are none, so a piece of work that is
//! covered at each of its minutes lies in a run of touching shifts that all have enough.
//!
//! What is done in passing needs a hand that is free of everything but whole pieces.

use crate::check::facts::Facts;
use crate::check::violation::Violation;
use crate::plan::Piece;
use crate::problem::Minute;

use super::pieces::{Job, pieces};

pub(super) fn check(facts: &Facts<'_>, violations: &mut Vec<Violation>) {
    let pieces: Vec<Job<'_>> = facts.runs.iter().flat_map(pieces).collect();
    count(facts, &pieces.iter().filter(|job| !job.passing).collect::<Vec<_>>(), violations);
    if pieces.iter().any(|job| job.passing) {
        count(facts, &pieces.iter().filter(|job| job.piece != Piece::Whole).collect::<Vec<_>>(), violations);
    }
}

fn count(facts: &Facts<'_>, pieces: &[&Job<'_>], violations: &mut Vec<Violation>) {
    let intervals: Vec<[Minute; 2]> = pieces.iter().map(|job| job.span).collect();
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
        let needed: i64 = running.iter().map(|&piece| pieces[piece].hands).sum();
        let there = there_at(minute);
        if needed > there && !short {
            let mut steps = super::ids(running.iter().map(|&piece| pieces[piece].run));
            steps.dedup();
            violations.push(Violation::Hands { minute, needed, there, steps });
        }
        short = needed > there;
    });
}

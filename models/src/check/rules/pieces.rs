//! The pieces of work of a step.

use crate::check::facts::Run;
use crate::plan::Piece;
use crate::problem::Minute;

/// A piece of work as it is planned.
pub(super) struct Job<'a> {
    pub(super) run: &'a Run<'a>,
    pub(super) piece: Piece,
    pub(super) span: [Minute; 2],
    pub(super) hands: i64,
    /// It may be done beside a whole piece.
    pub(super) passing: bool,
}

/// All pieces of a step that take hands and time.
pub(super) fn pieces<'a>(run: &'a Run<'a>) -> impl Iterator<Item = Job<'a>> {
    let mode = run.mode;
    let job = |piece, span, hands, passing| Job { run, piece, span, hands, passing };
    let ends = [
        job(Piece::Whole, [run.start, run.end], mode.hands, false),
        job(Piece::Load, [run.start, run.start + mode.load], 1, false),
        job(Piece::Unload, [run.end - mode.unload, run.end], 1, false),
    ];
    let touches = run.touches().map(|(index, touch, begun)| Job {
        run,
        piece: Piece::Touch(index),
        span: [begun, begun + touch.minutes],
        hands: 1,
        passing: touch.passing,
    });
    ends.into_iter().chain(touches).filter(|job| job.hands > 0 && job.span[0] < job.span[1])
}

//! Who works when: the engines take turns, goal by goal.

use crate::board::Board;
use crate::learn::Learner;
use crate::local::Improver;
use crate::price::Pricer;
use crate::program;

/// Work for the first turn of an engine; later turns are longer.
const FIRST_TURN: u64 = 1_000;
/// Work for the longest turn.
const LONGEST_TURN: u64 = 60_000;
/// Turns before a small feast is given to an integer program as a whole: most are proved by then.
const TURNS_BEFORE_PROGRAM: u32 = 4;
/// Turns before pairs of dishes inside the best plan are planned anew by integer programs.
const TURNS_BEFORE_REWORK: u32 = 8;
/// Work for that.
const REWORK: u64 = 1_000;

/// Lets the engines work until all is proved or a limit is reached.
///
/// Turns are counted in work, never in time, so that the same limit gives the same plan.
pub(crate) fn run(board: &mut Board<'_, '_, '_>) {
    let instance = board.instance;
    let mut improver = Improver::new(instance);
    let mut learner = Learner::new(instance);
    let mut pricer = Pricer::new(instance);
    let mut turn = FIRST_TURN;
    let mut turns = 0;
    while let Some(goal) = board.open_goal() {
        board.start_slice(turn);
        improver.run(board);
        if goal == 1
            && board.open_goal() == Some(goal)
            && let Some(pricer) = pricer.as_mut().filter(|pricer| !pricer.gives_up())
        {
            // A unit of its work takes a tenth of the time of the others', and proofs of waiting come from here.
            board.start_slice(20 * turn);
            pricer.run(board);
        }
        if board.open_goal() == Some(2)
            && !learner.is_narrowed()
            && let (Some(pricer), Some((cost, _))) = (&mut pricer, board.best())
            && let Some(frames) = pricer.survivors(cost[1])
        {
            learner.narrow(board, &frames);
        }
        if board.open_goal() == Some(goal) {
            board.start_slice(turn);
            learner.run(board, goal);
        }
        turns += 1;
        if goal < 2 && turns == TURNS_BEFORE_PROGRAM && board.open_goal() == Some(goal) {
            board.start_slice(turn);
            program::prove(board, turn);
        }
        if goal == 1 && turns == TURNS_BEFORE_REWORK && board.open_goal() == Some(goal) {
            board.start_slice(turn);
            program::rework(board, REWORK);
        }
        if board.stopped().is_some() || board.close_enough() {
            return;
        }
        turn = (turn + turn / 2).min(LONGEST_TURN);
    }
}

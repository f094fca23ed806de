//! Who works when: the engines take turns, goal by goal.

use crate::board::Board;

/// Lets the engines work until all is proved or a limit is reached.
pub(crate) fn run(board: &mut Board<'_, '_, '_>) {
    let _ = board;
}

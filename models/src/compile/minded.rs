//! Ovens that somebody has to light, where the cooks come and go.

use crate::oven::ROOM;
use crate::problem::{Minute, Place, Problem};

/// Nobody turns a dial before the first cook comes, nor lights an oven again while all are away. Where somebody is always
/// there it makes no difference, and is not said.
pub(super) fn mind(problem: &mut Problem) {
    let shifts = problem.shifts.iter().filter(|shift| shift.hands > 0).map(|shift| (shift.start, shift.end));
    let hours = problem.cooks.iter().flat_map(|cook| &cook.shifts).map(|hours| (hours.start, hours.end));
    let mut there: Vec<(Minute, Minute)> = shifts.chain(hours).collect();
    there.sort_unstable();
    let Some(&(first, mut until)) = there.first() else { return };
    let mut longest = 0;
    for (start, end) in there {
        longest = longest.max(start - until);
        until = until.max(end);
    }
    for place in &mut problem.places {
        if let Place::Cavity(cavity) = place {
            let cold_before = problem.opening < first && cavity.t_open <= ROOM;
            cavity.attended = cold_before || longest > cavity.cool_off;
        }
    }
}

//! Room in a plan that has become late.
//!
//! Where a course is later than people know, all of them have to read a new sheet. It has some room after what is in doubt: an
//! overrun of the next job then makes nothing later still. A plan that is as late as the last one is left as it is.

use super::today::Today;
use super::{Found, price, told};
use crate::calm::calm;
use crate::odds::ranges;

/// By how much of its minutes a job is in doubt where the menu does not say, percent (our assumption).
const DOUBT: u32 = 20;
/// How much more food may wait for that room, percent (our choice).
const PRICE: u32 = 40;

/// The plan with room in it, if it is later than people know.
pub(super) fn with_room(today: &Today<'_>, found: Found) -> Found {
    if today.as_planned || found.plan.lateness <= told(today) {
        return found;
    }
    let doubts = ranges(&found.rest.problem, &found.plan, DOUBT);
    let Ok(calmed) = calm(&found.rest.problem, &found.plan, &today.crew, &doubts, PRICE, None) else { return found };
    let whole = found.rest.whole(today, &calmed.plan);
    if price::stale(today, &whole) > price::stale(today, &found.whole) {
        return found;
    }
    Found { plan: calmed.plan, whole, ..found }
}

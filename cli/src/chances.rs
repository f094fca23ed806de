//! How likely a plan is to keep its hours, as every sheet says it.

use rangewright::FeastPlan;
use rangewright::odds::{CourseOdds, Dice, Odds, Shared};

/// The evenings that are played for a sheet: the odds are right to about two in a hundred.
pub(crate) const DICE: Dice = Dice { evenings: 2_000, seed: 1, shared: Shared::USUAL, within: 5 };

/// How many percent a step is in doubt if nothing is said of it: as `odds` has it by default.
pub(crate) const DOUBT: u32 = 10;

/// The odds of a plan, as far as they can be played.
pub(crate) fn of(feast: &FeastPlan) -> Option<Odds> {
    feast.odds(DOUBT, DICE).ok()
}

/// `within 5 min of that in 9 evenings of 10`: rounded down, so that ten of ten means all.
pub(crate) fn of_course(odds: &Odds, course: &CourseOdds) -> String {
    let tenths = course.kept_within * 10 / odds.evenings.max(1);
    let often = match tenths {
        0 => "hardly ever".to_owned(),
        10 => "in every evening".to_owned(),
        tenths => format!("in {tenths} evenings of 10"),
    };
    match odds.within {
        0 => format!("on the minute {often}"),
        within => format!("within {within} min of that {often}"),
    }
}

//! Changes to a menu, a kitchen or a crew, as data: what a cook could do about a "no", and what would help a "yes".

mod apply;
mod benefit;
mod busy;
mod candidates;
mod crew;
mod extra;
mod remedy;

use std::fmt;

use rangewright_models::problem::Minute;
use serde::{Deserialize, Serialize};

pub use apply::changed;
pub use benefit::{Benefit, Found, Help, Measure, usual_changes, what_would_help};
pub use busy::{BREAK, Busy, Scarce, busy};
pub use remedy::{Remedy, remedies};

/// One change to a problem. Ids are those of the problem; [`changed`] carries it out.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Change {
    /// This step may last longer: a hold, a rest, an elastic roast.
    KeepLonger {
        /// The step.
        step: String,
        /// By how much.
        minutes: Minute,
    },
    /// This gap may be longer.
    WaitLonger {
        /// The earlier step.
        from: String,
        /// The later step.
        to: String,
        /// By how much.
        minutes: Minute,
    },
    /// The course may be served later than the menu allows.
    ServeLater {
        /// The course.
        course: String,
        /// By how much.
        minutes: Minute,
    },
    /// The dishes of the course need not come to the table so close together.
    SpreadOut {
        /// The course.
        course: String,
        /// By how much.
        minutes: Minute,
    },
    /// The distance from the course before may be longer.
    PauseLonger {
        /// The later course.
        course: String,
        /// By how much.
        minutes: Minute,
    },
    /// The step accepts air warmer and cooler than its modes say.
    AcceptDegrees {
        /// The step.
        step: String,
        /// By how much on both sides, degrees C.
        degrees: i64,
    },
    /// The step may start earlier than its earliest time.
    StartEarlier {
        /// The step.
        step: String,
        /// By how much.
        minutes: Minute,
    },
    /// The step may end later than its latest time.
    EndLater {
        /// The step.
        step: String,
        /// By how much.
        minutes: Minute,
    },
    /// The step takes a pan that is smaller on every side.
    SmallerPan {
        /// The step.
        step: String,
        /// By how much, mm.
        millimetres: i64,
    },
    /// The pan is covered and gives off no moist air.
    Cover {
        /// The step.
        step: String,
    },
    /// Work begins earlier: the kitchen opens and the first shift starts so much sooner.
    OpenEarlier {
        /// By how much.
        minutes: Minute,
    },
    /// Hands for some hours on the day before, ending half a day before the kitchen opens.
    DayBefore {
        /// For how long.
        minutes: Minute,
    },
    /// More of a pool.
    MoreOf {
        /// The pool.
        pool: String,
        /// How many more.
        amount: i64,
    },
    /// More burners on a hob.
    MoreBurners {
        /// The hob.
        place: String,
        /// How many more.
        count: i64,
    },
    /// More racks in a cavity.
    MoreRacks {
        /// The cavity.
        place: String,
        /// How many more.
        count: i64,
    },
    /// More hands in every shift.
    MoreHands {
        /// How many more.
        hands: i64,
    },
    /// A second cavity or top just like this one.
    Second {
        /// The one that exists.
        place: String,
    },
    /// A warming drawer: another cavity, 30 to 85 C, for whatever may be that warm, and for roasts that rest.
    Drawer,
    /// The cold work of a dish is done on the day before, as far as the food keeps cold between its steps.
    Ahead {
        /// The dish.
        dish: String,
        /// So many minutes of one pair of hands, if nobody is at work on that day yet.
        minutes: Minute,
    },
    /// The dish is left off the menu.
    DropDish {
        /// The dish.
        dish: String,
    },
}

impl Change {
    /// How much is changed, to rank by: a rule of ours, from a minute's patience to another dish on the menu.
    pub fn size(&self) -> i64 {
        match self {
            Change::Cover { .. } => 5,
            Change::KeepLonger { minutes, .. }
            | Change::WaitLonger { minutes, .. }
            | Change::ServeLater { minutes, .. }
            | Change::SpreadOut { minutes, .. }
            | Change::PauseLonger { minutes, .. }
            | Change::StartEarlier { minutes, .. }
            | Change::EndLater { minutes, .. }
            | Change::OpenEarlier { minutes } => *minutes,
            Change::SmallerPan { millimetres, .. } => 10 + millimetres,
            Change::AcceptDegrees { degrees, .. } => 2 * degrees,
            Change::MoreOf { amount, .. } => 40 * amount,
            Change::MoreRacks { count, .. } => 50 * count,
            Change::Ahead { .. } => 80,
            Change::DayBefore { .. } => 90,
            Change::Drawer => 150,
            Change::MoreBurners { count, .. } => 90 * count,
            Change::MoreHands { hands } => 100 * hands,
            Change::Second { .. } => 200,
            Change::DropDish { .. } => 400,
        }
    }
}

impl fmt::Display for Change {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Change::KeepLonger { step, minutes } => write!(f, "let {step} last {minutes} minutes longer"),
            Change::WaitLonger { from, to, minutes } => {
                write!(f, "let {to} wait {minutes} minutes longer after {from}")
            }
            Change::ServeLater { course, minutes } => write!(f, "serve {course} up to {minutes} minutes later"),
            Change::SpreadOut { course, minutes } => {
                write!(f, "let the dishes of {course} come {minutes} minutes further apart")
            }
            Change::PauseLonger { course, minutes } => {
                write!(f, "let the pause before {course} be {minutes} minutes longer")
            }
            Change::AcceptDegrees { step, degrees } => write!(f, "accept {degrees} degrees C more or less for {step}"),
            Change::StartEarlier { step, minutes } => write!(f, "let {step} start {minutes} minutes earlier"),
            Change::EndLater { step, minutes } => write!(f, "let {step} end {minutes} minutes later"),
            Change::SmallerPan { step, millimetres } => {
                write!(f, "take a pan for {step} that is {millimetres} mm smaller on every side")
            }
            Change::Cover { step } => write!(f, "cover {step}, so that it gives off no moist air"),
            Change::OpenEarlier { minutes } => write!(f, "begin {minutes} minutes earlier"),
            Change::DayBefore { minutes } => write!(f, "work {minutes} minutes on the day before"),
            Change::MoreOf { pool, amount } => write!(f, "have {amount} more of {pool}"),
            Change::MoreBurners { place, count } => write!(f, "have {count} more burners like {place}"),
            Change::MoreRacks { place, count } => write!(f, "put {count} more racks into {place}"),
            Change::MoreHands { hands } => write!(f, "have {hands} more hands"),
            Change::Second { place } => write!(f, "have a second {place}"),
            Change::Drawer => write!(f, "have a warming drawer"),
            Change::Ahead { dish, .. } => write!(f, "do the cold work of {dish} on the day before"),
            Change::DropDish { dish } => write!(f, "leave {dish} off the menu"),
        }
    }
}

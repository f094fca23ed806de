//! A problem with indices in place of ids: what every engine searches in.
//!
//! Illegal modes are gone (each mode remembers its index in the problem), minutes are 32 bits, needs are resolved into
//! uses of cumulative resources, and what may not stand beside what is one table per place.

mod crew;
mod lower;
mod minded;
mod need;
mod profile;
mod separation;
mod windows;

use rangewright_models::problem::Problem;

pub(crate) use crew::{Crew, When, Work};
pub(crate) use need::{During, Need};
pub(crate) use profile::Profile;
pub(crate) use separation::PlaceTable;
pub(crate) use windows::{Span, Windows};

use crate::limits::Halt;
use crate::outcome::Reason;

/// A minute.
pub(crate) type Time = i32;

/// Index of the hands among the resources.
pub(crate) const HANDS: usize = 0;

/// A problem made ready for searching.
pub(crate) struct Instance<'p> {
    pub(crate) problem: &'p Problem,
    /// Whether to stop, for everybody who works on it.
    pub(crate) halt: Halt<'p>,
    pub(crate) opening: Time,
    /// No step ends and no course is served later.
    pub(crate) horizon: Time,
    pub(crate) steps: Vec<Step>,
    pub(crate) links: Vec<Link>,
    pub(crate) courses: Vec<Course>,
    /// Hands first ([`HANDS`]), then pools, then hobs, then sets of cooks.
    pub(crate) resources: Vec<Resource>,
    /// Who works, where that is more than a number of hands: then a plan is not complete until it is known who does what.
    pub(crate) crew: Option<Crew>,
    /// One table for each place of the problem, in its order; a hob's has no occupants (it is a resource).
    pub(crate) places: Vec<PlaceTable>,
    /// For each dish of the problem, its steps.
    pub(crate) dishes: Vec<Vec<usize>>,
    /// Steps in an order that agrees with all links.
    pub(crate) order: Vec<usize>,
    /// When each step may start and end and each course be served, by the links and fixed times alone.
    pub(crate) windows: Windows,
}

/// A step with its legal modes.
#[derive(Clone, Debug)]
pub(crate) struct Step {
    pub(crate) dish: usize,
    pub(crate) earliest: Time,
    pub(crate) latest: Time,
    pub(crate) modes: Vec<Mode>,
    /// Links that end here.
    pub(crate) before: Vec<usize>,
    /// Links that start here.
    pub(crate) after: Vec<usize>,
    /// The course it is a sink of, and what standing until the serving costs.
    pub(crate) sink: Option<(usize, Rate)>,
}

/// A legal mode.
#[derive(Clone, Debug)]
pub(crate) struct Mode {
    /// Its index in the problem's step.
    pub(crate) source: usize,
    pub(crate) min: Time,
    pub(crate) max: Time,
    pub(crate) cost: i64,
    /// What minutes beyond `min` cost.
    pub(crate) wait: Rate,
    /// It cannot start earlier: `opening`, or the end of the first heat of its cavity.
    pub(crate) ready: Time,
    /// Hands, pools and burners: all that it needs of resources.
    pub(crate) needs: Vec<Need>,
    /// Its pieces of work, where there is a [`Crew`].
    pub(crate) works: Vec<Work>,
    pub(crate) place: Option<usize>,
    /// Its index among the occupants of its place (cavity or top).
    pub(crate) occupant: Option<usize>,
    /// Minutes from the start in which no other step may open the door.
    pub(crate) shut: Time,
    /// Minutes after the start at which it opens the door, other than its start and end.
    pub(crate) openings: Vec<Time>,
}

/// A cumulative resource.
#[derive(Clone, Debug)]
pub(crate) struct Resource {
    pub(crate) capacity: Profile,
}

/// A link by indices.
#[derive(Clone, Debug)]
pub(crate) struct Link {
    pub(crate) from: usize,
    pub(crate) to: usize,
    pub(crate) min: Time,
    /// `Time::MAX` if open.
    pub(crate) max: Time,
    pub(crate) stay: bool,
    pub(crate) wait: Rate,
}

/// A course by indices.
#[derive(Clone, Debug)]
pub(crate) struct Course {
    pub(crate) serve: Time,
    pub(crate) weight: i64,
    pub(crate) max_slip: Time,
    pub(crate) together: Time,
    pub(crate) sinks: Vec<usize>,
    /// The earlier course, and the least and most minutes between the servings (`Time::MAX` if open).
    pub(crate) after: Option<(usize, Time, Time)>,
}

/// What waiting costs: convex, piecewise linear with one bend.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Rate {
    pub(crate) rate: i64,
    /// `Time::MAX` if the rate never changes.
    pub(crate) soft: Time,
    pub(crate) rate_after: i64,
}

impl Rate {
    /// The cost of waiting `minutes` (not negative).
    pub(crate) fn cost(self, minutes: Time) -> i64 {
        let late = minutes.saturating_sub(self.soft).max(0);
        self.rate * i64::from(minutes) + (self.rate_after - self.rate) * i64::from(late)
    }

    /// Waiting costs nothing, however long.
    pub(crate) fn is_free(self) -> bool {
        self.rate == 0 && (self.soft == Time::MAX || self.rate_after == 0)
    }
}

impl<'p> Instance<'p> {
    /// Makes a problem without faults ready for searching, or says at once why there is no plan.
    pub(crate) fn new(problem: &'p Problem) -> Result<Self, Vec<Reason>> {
        lower::lower(problem, Halt::default())
    }

    /// As [`Instance::new`], to be searched until it is said to stop. What has not been looked at by then is in doubt.
    pub(crate) fn until(problem: &'p Problem, halt: Halt<'p>) -> Result<Self, Vec<Reason>> {
        lower::lower(problem, halt)
    }

    /// Whether the packing gave up on a question: what was concluded since need not hold.
    pub(crate) fn is_in_doubt(&self) -> bool {
        self.places.iter().any(PlaceTable::is_in_doubt)
    }
}

//! The kinds of faults, one for each rule, and how they read.

use std::fmt;

use serde::{Deserialize, Serialize};

/// One thing wrong with a problem.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ProblemFault {
    /// Where, in the words of the JSON form: `steps[3] "roast" modes[0] shut`.
    pub at: String,
    /// What is wrong.
    pub what: FaultKind,
}

impl fmt::Display for ProblemFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.at, self.what)
    }
}

/// What an id is the id of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Named {
    /// A cavity, a hob or a top.
    Place,
    /// A pool.
    Pool,
    /// A dish.
    Dish,
    /// A step.
    Step,
    /// A course.
    Course,
    /// A cook.
    Cook,
}

impl fmt::Display for Named {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Named::Place => "place",
            Named::Pool => "pool",
            Named::Dish => "dish",
            Named::Step => "step",
            Named::Course => "course",
            Named::Cook => "cook",
        })
    }
}

/// What can be wrong with a problem. `Display` says what it is and what to do.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum FaultKind {
    /// An id is empty.
    EmptyId,
    /// Two things of the same kind have the same id.
    DuplicateId {
        /// Where the id is used first.
        first: String,
    },
    /// An id names nothing.
    UnknownId {
        /// What it should name.
        named: Named,
        /// The id.
        id: String,
    },
    /// A number is negative where it may not be, or absurd.
    OutOfRange {
        /// The number.
        value: i64,
        /// The least legal one.
        least: i64,
        /// The greatest legal one.
        most: i64,
    },
    /// A greatest value is below its least value.
    MaxBelowMin {
        /// The least value.
        min: i64,
        /// The greatest value.
        max: i64,
    },
    /// A window's low end is above its high end, or a shift ends before it starts.
    UpsideDown {
        /// The low end.
        low: i64,
        /// The high end.
        high: i64,
    },
    /// Waiting would become cheaper past the soft limit.
    RateAfterBelowRate {
        /// The rate up to the soft limit.
        rate: i64,
        /// The rate past it.
        rate_after: i64,
    },
    /// A step has to start later than it has to end.
    EarliestAfterLatest {
        /// The earliest start.
        earliest: i64,
        /// The latest end.
        latest: i64,
    },
    /// Two shifts have minutes in common.
    ShiftsOverlap {
        /// The index of the other shift.
        other: usize,
    },
    /// Hands are counted in shifts, and cooks are named as well.
    CooksAndShifts,
    /// A mode may be done by nobody.
    NobodyAllowed,
    /// A mode needs more hands than it names cooks.
    MoreHandsThanCooks {
        /// Hands needed.
        hands: i64,
        /// How many cooks may do it.
        cooks: usize,
    },
    /// A touch takes too long to be done in passing.
    TooLongInPassing {
        /// The minutes it takes.
        minutes: i64,
        /// The most.
        most: i64,
    },
    /// A touch that floats or is done in passing is meant for a minute at which its step may be over.
    TouchOutsideStep {
        /// When it would be over, in minutes after the start of the step.
        over: i64,
        /// The mode's least time.
        min: i64,
    },
    /// A step has no modes.
    NoModes,
    /// A mode may take no time at all although it needs a place, hands or pools.
    ZeroMinutes,
    /// Putting in and taking out take longer than the mode's least time.
    LoadLongerThanStep {
        /// `load + unload`.
        minutes: i64,
        /// The mode's least time.
        min: i64,
    },
    /// A mode needs hands throughout and also for putting in or taking out.
    HandsAndLoad,
    /// The door stays shut for longer than the mode's least time.
    ShutLongerThanStep {
        /// Minutes with the door shut.
        shut: i64,
        /// The mode's least time.
        min: i64,
    },
    /// A mode lacks what its kind of place needs to know.
    MissingField {
        /// The field of the JSON form.
        field: String,
    },
    /// A stay link allows a gap.
    StayWithGap,
    /// The two steps of a stay link have no cavity in common.
    StayWithoutCavity,
    /// Links close a circle.
    CyclicLinks {
        /// The steps in the order of the links; the last one is followed by the first.
        steps: Vec<String>,
    },
    /// Courses follow each other in a circle.
    CyclicCourses {
        /// Each course follows the next one in this list; the last one follows the first.
        courses: Vec<String>,
    },
    /// Nothing follows a step and no course serves it.
    ReachesNoSink,
    /// A step that is served is followed by another one.
    SinkWithSuccessor {
        /// The step that follows.
        successor: String,
    },
    /// A step is served more than once.
    SinkTwice {
        /// The course that serves it first.
        first: String,
    },
}

impl fmt::Display for FaultKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FaultKind::EmptyId => write!(f, "the id is empty: give it a name"),
            FaultKind::DuplicateId { first } => {
                write!(f, "the id is used already at {first}: give one of the two another id")
            }
            FaultKind::UnknownId { named, id } => {
                write!(f, "there is no {named} with the id {id:?}: correct the id or add the {named}")
            }
            FaultKind::OutOfRange { value, least, most } => {
                write!(f, "{value} is negative or absurd: give a whole number from {least} to {most}")
            }
            FaultKind::MaxBelowMin { min, max } => {
                write!(f, "the greatest value {max} is below the least value {min}: raise the one or lower the other")
            }
            FaultKind::UpsideDown { low, high } => {
                write!(f, "the low end {low} lies above the high end {high}: swap or correct them")
            }
            FaultKind::RateAfterBelowRate { rate, rate_after } => write!(
                f,
                "rate_after {rate_after} is below rate {rate}: waiting may not become cheaper; raise rate_after to at least {rate}"
            ),
            FaultKind::EarliestAfterLatest { earliest, latest } => write!(
                f,
                "the earliest start {earliest} lies after the latest end {latest}: move one of them or leave it out"
            ),
            FaultKind::ShiftsOverlap { other } => write!(
                f,
                "the shift overlaps shifts[{other}]: split them into stretches that do not overlap, each with all its hands"
            ),
            FaultKind::CooksAndShifts => {
                write!(f, "cooks are named and hands are counted as well: keep either `cooks` or `shifts`")
            }
            FaultKind::NobodyAllowed => {
                write!(f, "nobody may do it: name at least one cook, or leave `who` out if anybody may")
            }
            FaultKind::MoreHandsThanCooks { hands, cooks } => {
                write!(f, "{hands} hands are needed and {cooks} may do it: name more cooks, or ask for fewer hands")
            }
            FaultKind::TooLongInPassing { minutes, most } => write!(
                f,
                "{minutes} minutes are too long to be done in passing: shorten it to {most} at most, or set passing to false"
            ),
            FaultKind::TouchOutsideStep { over, min } => write!(
                f,
                "the touch is over {over} minutes after the start, later than min {min}: set `at` earlier or raise min"
            ),
            FaultKind::NoModes => write!(f, "the step has no modes: say at least one way to do it"),
            FaultKind::ZeroMinutes => {
                write!(f, "min is 0 although the mode needs a place, hands or pools: set min to at least 1")
            }
            FaultKind::LoadLongerThanStep { minutes, min } => {
                write!(f, "load and unload take {minutes} minutes, more than min {min}: shorten them or raise min")
            }
            FaultKind::HandsAndLoad => write!(
                f,
                "hands are needed throughout and for load or unload as well: keep either hands or load and unload"
            ),
            FaultKind::ShutLongerThanStep { shut, min } => {
                write!(f, "the door stays shut for {shut} minutes, more than min {min}: lower shut or raise min")
            }
            FaultKind::MissingField { field } => write!(f, "`{field}` is missing: a mode in such a place needs it"),
            FaultKind::StayWithGap => {
                write!(f, "a stay link allows a gap: set its min and max to 0, or stay to false")
            }
            FaultKind::StayWithoutCavity => write!(
                f,
                "the two steps of the stay link have no cavity in common: give both a mode in the same cavity, or set stay to false"
            ),
            FaultKind::CyclicLinks { steps } => {
                write!(f, "the links close a circle: ")?;
                circle(f, steps, " -> ")?;
                write!(f, "; remove one of these links")
            }
            FaultKind::CyclicCourses { courses } => {
                write!(f, "the courses follow each other in a circle: ")?;
                circle(f, courses, " after ")?;
                write!(f, "; remove one `after`")
            }
            FaultKind::ReachesNoSink => write!(
                f,
                "nothing follows the step and no course serves it: add it to the sinks of a course, or link it to a step that is served"
            ),
            FaultKind::SinkWithSuccessor { successor } => write!(
                f,
                "the step is served by a course but followed by {successor:?}: serve the last step of the dish, or remove the link"
            ),
            FaultKind::SinkTwice { first } => {
                write!(f, "the step is served already by course {first:?}: keep it in one course, once")
            }
        }
    }
}

fn circle(f: &mut fmt::Formatter<'_>, ids: &[String], between: &str) -> fmt::Result {
    for id in ids {
        write!(f, "{id:?}{between}")?;
    }
    match ids.first() {
        Some(id) => write!(f, "{id:?}"),
        None => Ok(()),
    }
}

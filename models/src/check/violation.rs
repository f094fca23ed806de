//! The rules a plan can break, each with who and when, and how they read.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::plan::Piece;
use crate::problem::{Minute, ProblemFault};

/// One rule a plan breaks.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Violation {
    /// The problem itself makes no sense.
    Refused {
        /// What is wrong with it.
        fault: ProblemFault,
    },
    /// A step is not planned.
    MissingStep {
        /// The step.
        step: String,
    },
    /// The plan names a step that there is not.
    UnknownStep {
        /// The id in the plan.
        step: String,
    },
    /// The plan serves a course that there is not.
    UnknownCourse {
        /// The id in the plan.
        course: String,
    },
    /// A step has fewer modes.
    NoSuchMode {
        /// The step.
        step: String,
        /// The index in the plan.
        mode: usize,
        /// How many modes there are.
        modes: usize,
    },
    /// A minute lies outside the legal range of a plan.
    AbsurdMinute {
        /// The step or course.
        id: String,
        /// The minute.
        minute: Minute,
    },
    /// A step ends before it starts.
    EndBeforeStart {
        /// The step.
        step: String,
        /// Its start.
        start: Minute,
        /// Its end.
        end: Minute,
    },
    /// The place cannot do what the mode asks for.
    IllegalMode {
        /// The step.
        step: String,
        /// The place.
        place: String,
        /// What it cannot do.
        why: Illegal,
    },
    /// A step takes fewer or more minutes than its mode allows.
    Duration {
        /// The step.
        step: String,
        /// The minutes it takes.
        minutes: Minute,
        /// The least.
        min: Minute,
        /// The most.
        max: Minute,
    },
    /// A step starts before the opening.
    BeforeOpening {
        /// The step.
        step: String,
        /// Its start.
        start: Minute,
        /// The opening.
        opening: Minute,
    },
    /// A step starts before its earliest start.
    TooEarly {
        /// The step.
        step: String,
        /// Its start.
        start: Minute,
        /// The earliest start.
        earliest: Minute,
    },
    /// A step ends after its latest end.
    TooLate {
        /// The step.
        step: String,
        /// Its end.
        end: Minute,
        /// The latest end.
        latest: Minute,
    },
    /// The gap between two linked steps is too short or too long.
    Gap {
        /// The earlier step.
        from: String,
        /// The later step.
        to: String,
        /// The gap; negative if they overlap.
        gap: Minute,
        /// The least.
        min: Minute,
        /// The most.
        max: Option<Minute>,
    },
    /// A pan that stays in the cavity is planned into two places.
    StayApart {
        /// The earlier step.
        from: String,
        /// The later step.
        to: String,
    },
    /// A course is served before its time, or slips too far.
    Slip {
        /// The course.
        course: String,
        /// When it is served.
        served: Minute,
        /// When it should be.
        serve: Minute,
        /// The most it may slip.
        max_slip: Minute,
    },
    /// A sink ends after the serving, or too long before it.
    Together {
        /// The course.
        course: String,
        /// The sink.
        step: String,
        /// Its end.
        end: Minute,
        /// When the course is served.
        served: Minute,
        /// The most minutes between the two.
        together: Minute,
    },
    /// Two courses follow each other too soon or too late.
    After {
        /// The later course.
        course: String,
        /// The earlier course.
        after: String,
        /// The minutes between the servings.
        gap: Minute,
        /// The least.
        min: Minute,
        /// The most.
        max: Option<Minute>,
    },
    /// More hands are needed than are there.
    Hands {
        /// When it begins.
        minute: Minute,
        /// Hands needed.
        needed: i64,
        /// Hands there.
        there: i64,
        /// Who needs them.
        steps: Vec<String>,
    },
    /// The plan states the beginnings of more or fewer touches than the mode has.
    TouchesStated {
        /// The step.
        step: String,
        /// How many it states.
        stated: usize,
        /// How many there are.
        touches: usize,
    },
    /// A touch is begun when it may not be.
    Touch {
        /// The step.
        step: String,
        /// Index of the touch.
        touch: usize,
        /// When it is begun, in minutes after the start.
        offset: Minute,
        /// When it may be begun at the earliest.
        first: Minute,
        /// When it may be begun at the latest.
        last: Minute,
    },
    /// A piece of work is not done as it should be.
    PieceDone {
        /// The step.
        step: String,
        /// Which piece of it.
        piece: Piece,
        /// What is wrong.
        why: BadHands,
    },
    /// A cook would have to do two pieces of work at once.
    CookBusy {
        /// The cook.
        cook: String,
        /// From when.
        minute: Minute,
        /// The step and the piece of the one.
        first: (String, Piece),
        /// The step and the piece of the other.
        second: (String, Piece),
    },
    /// More is taken from a pool than it has.
    Pool {
        /// The pool.
        pool: String,
        /// When it begins.
        minute: Minute,
        /// What is taken.
        needed: i64,
        /// What it has.
        there: i64,
        /// Who takes it.
        steps: Vec<String>,
    },
    /// More pans stand on a hob than it has burners.
    Hob {
        /// The hob.
        place: String,
        /// When it begins.
        minute: Minute,
        /// How many burners there are.
        count: i64,
        /// Who stands there.
        steps: Vec<String>,
    },
    /// The pans on a top do not fit side by side.
    Top {
        /// The top.
        place: String,
        /// When it begins.
        minute: Minute,
        /// Who stands there.
        steps: Vec<String>,
    },
    /// The pans in a cavity do not fit on its racks.
    Room {
        /// The cavity.
        place: String,
        /// When it begins.
        minute: Minute,
        /// Who stands there.
        steps: Vec<String>,
    },
    /// No arrangement of the pans in a place was found, though there may be one.
    RoomUnknown {
        /// The place.
        place: String,
        /// When it begins.
        minute: Minute,
        /// Who stands there.
        steps: Vec<String>,
    },
    /// What is in a cavity is too heavy.
    Weight {
        /// The cavity.
        place: String,
        /// When it begins.
        minute: Minute,
        /// The weight, g.
        weight: i64,
        /// The limit, g.
        max_weight: i64,
        /// Who stands there.
        steps: Vec<String>,
    },
    /// Two steps in one cavity at the same minute need different air.
    Air {
        /// The cavity.
        place: String,
        /// From when.
        minute: Minute,
        /// The step that is in already.
        first: String,
        /// The step that comes to it.
        second: String,
        /// What differs.
        clash: AirClash,
    },
    /// There is not enough time for a cavity to change its temperature.
    Changeover {
        /// The cavity.
        place: String,
        /// The step before; none: the cavity is as it was at the opening.
        from: Option<String>,
        /// The step after.
        to: String,
        /// The minutes there are.
        minutes: Minute,
        /// The minutes it takes.
        needed: Minute,
    },
    /// A step needs a hot cavity before anybody can have lit it.
    Unlit {
        /// The cavity.
        place: String,
        /// The step.
        step: String,
        /// When it starts.
        start: Minute,
        /// When somebody is there again.
        back: Minute,
        /// The minutes that it then takes.
        needed: Minute,
    },
    /// A door is opened while it must stay shut.
    DoorOpened {
        /// The cavity.
        place: String,
        /// The step that needs it shut.
        shut: String,
        /// The step for which it is opened.
        opened: String,
        /// Why it is opened.
        what: Opening,
        /// When.
        minute: Minute,
    },
    /// The plan states another cost than it has.
    Stated {
        /// Which goal.
        goal: Goal,
        /// The value it states.
        stated: i64,
        /// The value it has.
        value: i64,
    },
    /// The plan states a lower bound that lies above what it costs itself.
    BoundAboveValue {
        /// Which goal.
        goal: Goal,
        /// The bound it states.
        bound: i64,
        /// The value it has.
        value: i64,
    },
    /// The plan calls itself optimal although a bound leaves something open.
    NotProved {
        /// Which goal.
        goal: Goal,
        /// The bound it states.
        bound: i64,
        /// The value it has.
        value: i64,
    },
}

/// Why a place cannot do what a mode asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Illegal {
    /// The cavity cannot reach the temperature.
    Temperature,
    /// The cavity does not offer the kind of heat.
    Heat,
    /// The pan does not fit even alone.
    Pan,
    /// The pan is too heavy even alone.
    Weight,
    /// The heat level is not on the scale.
    Level,
    /// The pan is too small or too large for the burner.
    Diameter,
}

/// What is wrong with who does a piece of work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum BadHands {
    /// The step as it is planned has no such piece.
    NoSuchPiece,
    /// The plan says twice who does it.
    Twice,
    /// The plan does not say who does it.
    Nobody,
    /// It is done by more or fewer cooks than it needs hands, or by one cook twice.
    Number {
        /// How many the plan names.
        cooks: usize,
        /// Hands needed.
        needed: i64,
    },
    /// There is no such cook.
    Unknown {
        /// The id in the plan.
        cook: String,
    },
    /// The cook is not one of those who may do it.
    MayNot {
        /// The cook.
        cook: String,
    },
    /// The cook is not there all the time.
    NotThere {
        /// The cook.
        cook: String,
    },
}

/// How the air that two steps need differs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum AirClash {
    /// Their temperature windows do not meet.
    Temperature,
    /// Their kinds of heat differ.
    Heat,
    /// One gives off moist air, the other cannot stand it.
    Moisture,
}

/// Why a door is opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Opening {
    /// Something is put in.
    Start,
    /// Something is taken out.
    End,
    /// Something inside is touched.
    Touch,
}

/// One of the three goals.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Goal {
    /// The first.
    Lateness,
    /// The second.
    Waiting,
    /// The third.
    Hot,
}

impl fmt::Display for Goal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Goal::Lateness => "lateness",
            Goal::Waiting => "waiting",
            Goal::Hot => "hot minutes",
        })
    }
}

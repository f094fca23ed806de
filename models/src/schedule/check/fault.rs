//! What a schedule can have wrong.

use crate::problem::Minute;
use crate::schedule::What;

/// Something in a schedule that does not do what its plan says, or cannot be done. Names are ids of the problem.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
#[allow(missing_docs)] // The fields are what they are called.
pub enum Unsound {
    /// The plan has no such step, or none of its modes, or nonsense for its minutes.
    #[error("\"{step}\" is not planned")]
    NotPlanned { step: String },
    /// Too few or too many are at it, or somebody is where nobody is wanted.
    #[error("{what:?} at {at}: {hands} hands are needed")]
    WrongHands { what: What, at: Minute, hands: i64 },
    /// Its jobs leave a gap or overlap.
    #[error("{what:?}: the jobs do not make up {from}..{until}")]
    NotMadeUp { what: What, from: Minute, until: Minute },
    /// One cook is wanted twice.
    #[error("{cook} does two things at {at}: {one:?}, {other:?}")]
    TwoThings { cook: String, at: Minute, one: What, other: What },
    /// A cook who is not on shift, counted from 0.
    #[error("cook {cook} is not there from {from} to {until}: {what:?}")]
    NotThere { cook: usize, from: Minute, until: Minute, what: What },
    /// A course is left out.
    #[error("course \"{course}\" never goes out")]
    NeverServed { course: String },
    /// A course is served before its dishes end, or its slip is another.
    #[error("course \"{course}\" goes out at {at}, before it is ready")]
    ServedUnready { course: String, at: Minute },
    /// A course is served at a minute that the plan does not say.
    #[error("course \"{course}\" goes out at another minute than planned")]
    ServedUnplanned { course: String },
    /// A place has no day.
    #[error("\"{place}\" is missing")]
    NoDay { place: String },
    /// A pan is nowhere, or in two spots at once.
    #[error("\"{step}\" has not exactly one spot at each minute")]
    NoSpot { step: String },
    /// A pan stands partly outside.
    #[error("the pan of \"{step}\" does not stand inside \"{place}\"")]
    Outside { step: String, place: String },
    /// Two pans share room.
    #[error("\"{one}\" and \"{other}\" are in each other's way in \"{place}\"")]
    InTheWay { one: String, other: String, place: String },
    /// More racks are used than there are.
    #[error("\"{place}\" has not {racks} racks at {at}")]
    TooManyRacks { place: String, racks: usize, at: Minute },
    /// The dial is off, or at another kind of heat.
    #[error("\"{step}\" has the wrong heat or none at {at}")]
    WrongHeat { step: String, at: Minute },
    /// The air is outside the window, degrees C.
    #[error("\"{step}\" wants {low} to {high} at {at}, the air has {air}")]
    WrongAir { step: String, low: i64, high: i64, at: Minute, air: i64 },
    /// A dial is turned twice at one minute, or earlier than before.
    #[error("the dial of \"{place}\" is turned at {at} although it was turned then or later")]
    TurnedTwice { place: String, at: Minute },
    /// Nobody opens the door for it.
    #[error("no door opens for \"{step}\"")]
    DoorStaysShut { step: String },
    /// A door is opened while something in there may not be disturbed.
    #[error("a door opens at {at} while that of \"{step}\" must stay shut")]
    DoorOpens { step: String, at: Minute },
    /// There is no burner of this number.
    #[error("\"{place}\" has no burner {burner}")]
    NoBurner { place: String, burner: usize },
    /// Two pans are on one burner at once.
    #[error("\"{one}\" and \"{other}\" are on one burner of \"{place}\"")]
    OneBurner { one: String, other: String, place: String },
}

//! Violations in words.

use std::fmt;

use crate::problem::Minute;

use super::violation::{AirClash, BadHands, Illegal, Opening, Violation};

impl fmt::Display for Violation {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Violation::Refused { fault } => write!(f, "the problem itself is refused: {fault}"),
            Violation::MissingStep { step } => write!(f, "{step:?} is not planned"),
            Violation::UnknownStep { step } => write!(f, "the plan names {step:?}, and there is no such step"),
            Violation::UnknownCourse { course } => write!(f, "the plan serves {course:?}, and there is no such course"),
            Violation::NoSuchMode { step, mode, modes } => {
                write!(f, "{step:?} is planned in mode {mode}, counted from 0, but has only {modes}")
            }
            Violation::AbsurdMinute { id, minute } => {
                write!(f, "{id:?}: minute {minute} lies outside the 30 days of a plan")
            }
            Violation::EndBeforeStart { step, start, end } => {
                write!(f, "{step:?} ends at minute {end}, before it starts at {start}")
            }
            Violation::IllegalMode { step, place, why } => write!(f, "{step:?} cannot be done in {place:?}: {why}"),
            Violation::Duration { step, minutes, min, max } => {
                write!(f, "{step:?} takes {minutes} minutes; its mode allows {min} to {max}")
            }
            Violation::BeforeOpening { step, start, opening } => {
                write!(f, "{step:?} starts at minute {start}, before the opening at {opening}")
            }
            Violation::TooEarly { step, start, earliest } => {
                write!(f, "{step:?} starts at minute {start}, before its earliest start {earliest}")
            }
            Violation::TooLate { step, end, latest } => {
                write!(f, "{step:?} ends at minute {end}, after its latest end {latest}")
            }
            Violation::Gap { from, to, gap, min, max } => {
                write!(f, "{to:?} starts {gap} minutes after the end of {from:?}; the link asks for ")?;
                range(f, *min, *max)
            }
            Violation::StayApart { from, to } => {
                write!(f, "{from:?} and {to:?} are one pan that stays in, but are not in the same cavity")
            }
            Violation::Slip { course, served, serve, max_slip } => write!(
                f,
                "course {course:?} is served at minute {served}; it may be from {serve} to {}",
                serve + max_slip
            ),
            Violation::Together { course, step, end, served, together } => write!(
                f,
                "{step:?} ends at minute {end}; course {course:?} is served at {served}, and at most {together} minutes may lie between"
            ),
            Violation::After { course, after, gap, min, max } => {
                write!(f, "course {course:?} is served {gap} minutes after {after:?}; it asks for ")?;
                range(f, *min, *max)
            }
            Violation::Hands { minute, needed, there, steps } => {
                write!(f, "from minute {minute} {needed} hands are needed and {there} are there: {}", list(steps))
            }
            Violation::TouchesStated { step, stated, touches } => {
                write!(f, "the plan says of {step:?} when {stated} touches are begun, and its mode has {touches}")
            }
            Violation::Touch { step, touch, offset, first, last } => write!(
                f,
                "{step:?}: touch {touch} is begun {offset} minutes after the start; it may be from {first} to {last}"
            ),
            Violation::PieceDone { step, piece, why } => write!(f, "{step:?}, {piece}: {why}"),
            Violation::CookBusy { cook, minute, first: (first, one), second: (second, other) } => {
                write!(f, "at minute {minute} {cook:?} is busy with {first:?}, {one}, and with {second:?}, {other}")
            }
            Violation::Pool { pool, minute, needed, there, steps } => {
                write!(f, "from minute {minute} {needed} of {pool:?} are needed and there are {there}: {}", list(steps))
            }
            Violation::Hob { place, minute, count, steps } => {
                write!(f, "from minute {minute} {place:?} has {count} burners for {}", list(steps))
            }
            Violation::Top { place, minute, steps } => {
                write!(f, "from minute {minute} these do not fit side by side on {place:?}: {}", list(steps))
            }
            Violation::Room { place, minute, steps } => {
                write!(f, "from minute {minute} these do not fit on the racks of {place:?}: {}", list(steps))
            }
            Violation::RoomUnknown { place, minute, steps } => write!(
                f,
                "from minute {minute} it could not be found out whether these fit in {place:?}, so it does not count: {}",
                list(steps)
            ),
            Violation::Weight { place, minute, weight, max_weight, steps } => write!(
                f,
                "from minute {minute} {place:?} bears {weight} g, more than its {max_weight} g: {}",
                list(steps)
            ),
            Violation::Air { place, minute, first, second, clash } => {
                write!(f, "from minute {minute} {first:?} and {second:?} are together in {place:?}, but {clash}")
            }
            Violation::Changeover { place, from: Some(from), to, minutes, needed } => write!(
                f,
                "{place:?} has {minutes} minutes between {from:?} and {to:?} for a change of temperature that takes {needed}"
            ),
            Violation::Changeover { place, from: None, to, minutes, needed } => write!(
                f,
                "{place:?} has {minutes} minutes from the opening to {to:?} for a first heat that takes {needed}"
            ),
            Violation::Unlit { place, step, start, back, needed } => write!(
                f,
                "{step:?} starts at minute {start}, but nobody is there to light {place:?} before minute {back}, and it then takes {needed}"
            ),
            Violation::DoorOpened { place, shut, opened, what, minute } => write!(
                f,
                "the door of {place:?} must stay shut for {shut:?}, but is opened at minute {minute} because {opened:?} {what}"
            ),
            Violation::Stated { goal, stated, value } => {
                write!(f, "the plan states {goal} of {stated}, but they come to {value}")
            }
            Violation::BoundAboveValue { goal, bound, value } => {
                write!(f, "the plan states that {goal} cannot be below {bound}, but its own are {value}")
            }
            Violation::NotProved { goal, bound, value } => {
                write!(f, "the plan calls itself optimal, but its bound on {goal} is {bound} and its value {value}")
            }
        }
    }
}

impl fmt::Display for Illegal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Illegal::Temperature => "it does not reach the temperature",
            Illegal::Heat => "it does not offer the kind of heat",
            Illegal::Pan => "the pan does not fit even alone",
            Illegal::Weight => "the pan is too heavy even alone",
            Illegal::Level => "the heat level is not on its scale",
            Illegal::Diameter => "the pan is too small or too large",
        })
    }
}

impl fmt::Display for BadHands {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BadHands::NoSuchPiece => write!(f, "there is no such piece of work"),
            BadHands::Twice => write!(f, "the plan says twice who does it"),
            BadHands::Nobody => write!(f, "the plan does not say who does it"),
            BadHands::Number { cooks, needed } => {
                write!(f, "{cooks} cooks do it, and it needs {needed} different ones")
            }
            BadHands::Unknown { cook } => write!(f, "there is no cook {cook:?}"),
            BadHands::MayNot { cook } => write!(f, "{cook:?} may not do it"),
            BadHands::NotThere { cook } => write!(f, "{cook:?} is not there all the time"),
        }
    }
}

impl fmt::Display for AirClash {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            AirClash::Temperature => "there is no temperature that suits both",
            AirClash::Heat => "they need different kinds of heat",
            AirClash::Moisture => "one gives off moist air and the other cannot stand it",
        })
    }
}

impl fmt::Display for Opening {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Opening::Start => "is put in",
            Opening::End => "is taken out",
            Opening::Touch => "is touched",
        })
    }
}

fn range(f: &mut fmt::Formatter<'_>, min: Minute, max: Option<Minute>) -> fmt::Result {
    match max {
        Some(max) => write!(f, "{min} to {max}"),
        None => write!(f, "at least {min}"),
    }
}

fn list(steps: &[String]) -> String {
    steps.iter().map(|step| format!("{step:?}")).collect::<Vec<_>>().join(", ")
}

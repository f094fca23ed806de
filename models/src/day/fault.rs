//! Entries that cannot be true, in words with the names that a caller gives.

use serde::{Deserialize, Serialize};

/// An entry that cannot be true of this problem.
///
/// ```
/// use rangewright_models::day::{DayFault, Untrue};
///
/// let fault = DayFault { entry: 2, why: Untrue::DoneAlready { step: "mash/boil".to_owned() } };
/// assert_eq!(fault.to_string(), "entry 2 of the log: \"mash/boil\" is done already");
/// assert_eq!(fault.why.named(|_| "Boil the roots", |place| place), "\"Boil the roots\" is done already");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[error("entry {entry} of the log: {why}")]
pub struct DayFault {
    /// The number of the entry, from 1.
    pub entry: usize,
    /// What is wrong.
    pub why: Untrue,
}

/// Why an entry cannot be true. Names are ids of the problem, or what the log has in their place.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, thiserror::Error)]
#[serde(tag = "fault", rename_all = "kebab-case")]
#[error("{}", self.named(|step| step, |place| place))]
#[non_exhaustive]
#[allow(missing_docs)] // The fields are what they are called.
pub enum Untrue {
    /// There is no such step.
    NoStep { step: String },
    /// There is no such place.
    NoPlace { place: String },
    /// There is no such dish.
    NoDish { dish: String },
    /// There is no such course.
    NoCourse { course: String },
    /// The step has only so many modes.
    NoSuchMode { step: String, modes: usize },
    /// No mode of the step is done there.
    NotThere { step: String, place: String },
    /// Fewer than no minutes are left.
    NegativeMinutes,
    /// A number that cannot be meant.
    OutOfRange { what: String, value: i64, least: i64, most: i64 },
    /// A hob or a top has no air.
    NoAir { place: String },
    /// An oven or a top has no burners.
    NoBurners { place: String },
    /// It was started before.
    StartedBefore { step: String },
    /// It is started only later.
    StartedLater { step: String },
    /// It is done already.
    DoneAlready { step: String },
    /// Nothing before it is left to be taken back.
    NothingToUndo,
    /// It works.
    NotBroken { place: String },
    /// The cook has not left.
    NotGone { cook: String },
    /// What is probed is in no oven.
    NoRoast { step: String },
}

impl Untrue {
    /// The fault in a sentence, and what to do, with the names that the two functions give for steps and places.
    pub fn named<'a>(
        &'a self,
        step_name: impl Fn(&'a str) -> &'a str,
        place_name: impl Fn(&'a str) -> &'a str,
    ) -> String {
        match self {
            Untrue::NoStep { step } => format!("there is no step \"{step}\""),
            Untrue::NoPlace { place } => format!("there is no place \"{place}\""),
            Untrue::NoDish { dish } => format!("there is no dish \"{dish}\""),
            Untrue::NoCourse { course } => format!("there is no course \"{course}\""),
            Untrue::NoSuchMode { step, modes } => {
                format!("\"{}\" has only {modes} ways, counted from 0", step_name(step))
            }
            Untrue::NotThere { step, place } => {
                format!("\"{}\" has no way in \"{}\"", step_name(step), place_name(place))
            }
            Untrue::NegativeMinutes => "minutes left cannot be negative: log that it is finished".to_owned(),
            Untrue::OutOfRange { what, value, least, most } => format!("{value} {what}: give {least} to {most}"),
            Untrue::NoAir { place } => format!("\"{}\" has no air to read", place_name(place)),
            Untrue::NoBurners { place } => {
                format!("\"{}\" has no burners to count: leave out their number", place_name(place))
            }
            Untrue::StartedBefore { step } => {
                let title = step_name(step);
                format!("\"{title}\" was started before: log it as mistaken first, if that was wrong")
            }
            Untrue::StartedLater { step } => format!("\"{}\" is started only later", step_name(step)),
            Untrue::DoneAlready { step } => format!("\"{}\" is done already", step_name(step)),
            Untrue::NothingToUndo => "there is nothing before it to take back".to_owned(),
            Untrue::NotBroken { place } => format!("\"{}\" was not logged as broken", place_name(place)),
            Untrue::NotGone { cook } => format!("{cook} was not logged as gone"),
            Untrue::NoRoast { step } => {
                format!("\"{}\" is in no oven: there is no roast to probe", step_name(step))
            }
        }
    }
}

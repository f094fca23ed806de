//! What can be logged.

use serde::{Deserialize, Serialize};

use crate::problem::Minute;

/// One line of the log.
///
/// ```
/// use rangewright_models::day::{Entry, Event};
/// let entry: Entry = serde_json::from_str(r#"{"at": 2410, "event": "started", "step": "roast"}"#)?;
/// assert_eq!(entry.event, Event::Started { step: "roast".to_owned(), mode: None });
/// # Ok::<(), serde_json::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// When it happened: a minute of the problem.
    pub at: Minute,
    /// What happened.
    #[serde(flatten)]
    pub event: Event,
}

/// What an event is called in a log.
pub(super) const EVENTS: [&str; 12] = [
    "started",
    "finished",
    "put-in",
    "taken-out",
    "needs",
    "probe",
    "oven-reads",
    "guests-late",
    "broken",
    "dropped",
    "served",
    "mistaken",
];

/// Something that happened in the kitchen. Ids are those of the problem.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "event", rename_all = "kebab-case", deny_unknown_fields)]
#[non_exhaustive]
pub enum Event {
    /// A step was started.
    Started {
        /// The step.
        step: String,
        /// Index of the way it is done; as planned if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        mode: Option<usize>,
    },
    /// A step is done.
    Finished {
        /// The step.
        step: String,
    },
    /// A pan went into its oven or onto its burner: the step starts.
    PutIn {
        /// The step.
        step: String,
        /// Where, if not where it was planned.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        place: Option<String>,
    },
    /// A pan came out: the step is done.
    TakenOut {
        /// The step.
        step: String,
    },
    /// A running step needs so many more minutes, as the cook sees it.
    Needs {
        /// The step.
        step: String,
        /// Minutes from then on.
        minutes: Minute,
    },
    /// The thermometer in the middle of what roasts.
    Probe {
        /// The step.
        step: String,
        /// What it shows, degrees C.
        core: i64,
        /// At what it comes out, degrees C; without it the reading moves no minute.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        target: Option<i64>,
        /// What it showed when it went in, degrees C; 5 if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        from: Option<i64>,
    },
    /// The thermometer in a cavity.
    OvenReads {
        /// The cavity.
        place: String,
        /// Degrees C.
        degrees: i64,
    },
    /// The guests come later than they were expected.
    GuestsLate {
        /// By how much, on top of what was logged before.
        minutes: Minute,
        /// Only this course; every course that is not served yet, if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        course: Option<String>,
    },
    /// A place no longer works.
    Broken {
        /// The place.
        place: String,
        /// How many of its burners; all of it if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        burners: Option<i64>,
    },
    /// A dish is given up.
    Dropped {
        /// The dish.
        dish: String,
    },
    /// A course went out.
    Served {
        /// The course.
        course: String,
    },
    /// What was logged of a step before is wrong: it has not been started. Nothing in a log is ever taken back otherwise.
    Mistaken {
        /// The step.
        step: String,
    },
}

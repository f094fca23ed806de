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
pub(super) const EVENTS: [&str; 26] = [
    "started",
    "finished",
    "put-in",
    "taken-out",
    "needs",
    "probe",
    "oven-reads",
    "not-heated",
    "guests-late",
    "guests-early",
    "broken",
    "repaired",
    "power-off",
    "power-on",
    "gone",
    "back",
    "swapped",
    "slower",
    "burnt",
    "again",
    "more-guests",
    "fewer-guests",
    "dropped",
    "served",
    "mistaken",
    "undo",
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
    /// Nobody turned a cavity on: it is as warm as it was at the opening.
    NotHeated {
        /// The cavity.
        place: String,
    },
    /// The guests come later than they were expected.
    GuestsLate {
        /// By how much, on top of what was logged before.
        minutes: Minute,
        /// Only so many of them: nothing is put off, and their portions are kept. All of them, if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        only: Option<i64>,
        /// Only this course; every course that is not served yet, if absent.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        course: Option<String>,
    },
    /// The guests come sooner than they were expected.
    GuestsEarly {
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
    /// A place works again. What stood in it meanwhile has not cooked.
    Repaired {
        /// The place.
        place: String,
    },
    /// The power is out: nothing that is heated works.
    PowerOff,
    /// The power is back.
    PowerOn,
    /// A cook has left.
    Gone {
        /// The cook.
        cook: String,
    },
    /// A cook who had left is back.
    Back {
        /// The cook.
        cook: String,
    },
    /// A job goes to another cook; who had it does what that cook was to do meanwhile.
    Swapped {
        /// The step.
        step: String,
        /// Whose it is now.
        cook: String,
    },
    /// A cook takes longer over everything from now on.
    Slower {
        /// The cook.
        cook: String,
        /// By so many percent; 0 is as usual.
        percent: i64,
    },
    /// A step is spoilt, and its dish is made again from its beginning.
    Burnt {
        /// The step.
        step: String,
    },
    /// A step is done once more, and what comes after it in its dish; what it is made of is still there.
    Again {
        /// The step.
        step: String,
    },
    /// More guests come than were expected.
    MoreGuests {
        /// How many more.
        more: i64,
        /// How many were expected before that.
        of: i64,
    },
    /// Fewer guests come than were expected.
    FewerGuests {
        /// How many fewer.
        fewer: i64,
        /// How many were expected before that.
        of: i64,
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
    /// What was logged of a step before is wrong: it has not been started.
    Mistaken {
        /// The step.
        step: String,
    },
    /// The entry before, of those that have not been taken back already, was wrong. The line stays in the log.
    Undo,
}

impl Event {
    /// Of lines of one minute, which is read first; `None` if their order says something.
    fn rank(&self) -> Option<u8> {
        match self {
            Event::Mistaken { .. } | Event::Undo | Event::Burnt { .. } | Event::Again { .. } => None,
            Event::Swapped { .. } | Event::Slower { .. } => None,
            Event::PowerOff | Event::Broken { .. } | Event::Gone { .. } => Some(0),
            Event::PowerOn | Event::Repaired { .. } | Event::Back { .. } => Some(1),
            Event::Started { .. } | Event::PutIn { .. } => Some(2),
            Event::Finished { .. } | Event::TakenOut { .. } => Some(4),
            Event::Served { .. } => Some(5),
            _ => Some(3),
        }
    }
}

/// The entries that count by `now`, with their numbers from 1: without those that were taken back, and those of one minute in
/// an order that does not depend on who wrote first. The error is the number of a line that takes back nothing.
pub(super) fn counting(entries: &[Entry], now: Minute) -> Result<Vec<(usize, &Entry)>, usize> {
    let mut counting: Vec<(usize, &Entry)> = Vec::new();
    for (index, entry) in entries.iter().enumerate().filter(|(_, entry)| entry.at <= now) {
        if entry.event == Event::Undo {
            counting.pop().ok_or(index + 1)?;
        } else {
            counting.push((index + 1, entry));
        }
    }
    let alike = |one: &(usize, &Entry), other: &(usize, &Entry)| {
        one.1.at == other.1.at && one.1.event.rank().is_some() && other.1.event.rank().is_some()
    };
    for minute in counting.chunk_by_mut(alike) {
        minute.sort_by_cached_key(|(_, entry)| (entry.event.rank(), format!("{:?}", entry.event)));
    }
    Ok(counting)
}

//! Where a day stands at one minute.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::probe::Left;
use crate::problem::legal::{GAP, MINUTES};
use crate::problem::{Minute, Problem};

/// How far a step has got.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "stage", rename_all = "kebab-case")]
pub enum Stage {
    /// Not started.
    Waiting,
    /// Started and not done.
    Running {
        /// The way it is done.
        mode: usize,
        /// Its first minute.
        start: Minute,
        /// When it will be done, as the last reading or the last word of a cook has it.
        until: Option<Minute>,
        /// Whether that was logged, or only follows from the plan.
        logged: bool,
    },
    /// Done.
    Done {
        /// The way it was done.
        mode: usize,
        /// Its first minute.
        start: Minute,
        /// The minute after its last.
        end: Minute,
        /// Whether that was logged, or only follows from the plan.
        logged: bool,
    },
}

/// What no longer works of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Breakdown {
    /// All of it.
    Whole,
    /// So many of its burners.
    Burners(i64),
}

/// A day at one minute.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Day {
    /// The minute.
    pub now: Minute,
    /// Each step of the problem.
    pub steps: BTreeMap<String, Stage>,
    /// When each course that has been served was served.
    pub served: BTreeMap<String, Minute>,
    /// By how much each course that has not been served was put off by late guests, or brought forward by early ones.
    pub put_off: BTreeMap<String, Minute>,
    /// What no longer works.
    pub broken: BTreeMap<String, Breakdown>,
    /// Dishes that were given up.
    pub dropped: BTreeSet<String>,
    /// The last reading of each cavity, with its minute.
    pub readings: BTreeMap<String, (Minute, i64)>,
    /// What the last probe of each running roast came to.
    pub probes: BTreeMap<String, Left>,
    /// Probes that moved no minute: no target was given, or it was too early to say.
    pub mute_probes: BTreeSet<String>,
    /// Since when what is broken no longer works.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub broken_since: BTreeMap<String, Minute>,
    /// When each cook who left was away: from, and until. Who is not back yet is away for ever.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub away: BTreeMap<String, Vec<[Minute; 2]>>,
    /// How many guests come now, and how many were expected; absent if that is the same.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guests: Option<[i64; 2]>,
    /// For each course that goes out before everybody is there: who of it comes later.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub latecomers: BTreeMap<String, Latecomers>,
    /// The steps that have gone to another cook, and to whom.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub swapped: BTreeMap<String, String>,
    /// By how many percent cooks are slower than planned.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub slower: BTreeMap<String, i64>,
}

/// Guests for whom portions are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Latecomers {
    /// How many.
    pub guests: i64,
    /// How much later than the course is wanted they come, minutes.
    pub minutes: Minute,
}

impl Day {
    /// How far a step has got.
    pub fn stage(&self, step: &str) -> Stage {
        self.steps.get(step).copied().unwrap_or(Stage::Waiting)
    }

    /// Whether a day that was made in code can be one of this problem: its minutes are legal, each step that is begun has the
    /// way it is done in, and nothing ends before it starts.
    ///
    /// # Errors
    /// The first thing that cannot be, in words.
    pub fn verify(&self, problem: &Problem) -> Result<(), String> {
        let minute = |what: &str, minute: Minute| {
            if MINUTES.contains(&minute) { Ok(()) } else { Err(format!("{what} is at minute {minute}: give {LEGAL}")) }
        };
        minute("now", self.now)?;
        for (id, stage) in &self.steps {
            let Some(step) = problem.steps.iter().find(|step| step.id == *id) else {
                return Err(format!("there is no step \"{id}\""));
            };
            let (mode, start, end) = match *stage {
                Stage::Waiting => continue,
                Stage::Running { mode, start, until, .. } => (mode, start, until.unwrap_or(start)),
                Stage::Done { mode, start, end, .. } => (mode, start, end),
            };
            if mode >= step.modes.len() {
                return Err(format!("\"{id}\" has no way {mode}, counted from 0"));
            }
            minute(id, start)?;
            minute(id, end)?;
            if end < start || (start > self.now) {
                return Err(format!("\"{id}\" starts at {start}, after its end or after now"));
            }
        }
        for (id, &at) in &self.served {
            minute(id, at)?;
        }
        for (id, &by) in &self.put_off {
            if !GAP.contains(&by) {
                return Err(format!("\"{id}\" is put off by {by} minutes: give {LEGAL}"));
            }
        }
        Ok(())
    }
}

/// The minutes that a day may speak of, in words.
const LEGAL: &str = "a minute from 0 to 43200, counted from midnight of the first day";

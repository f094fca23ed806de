//! Who is in the kitchen when.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::data::{Job, Schedule};
use crate::labels::{CookLabel, Labels};
use crate::problem::{self, Minute, Problem};

/// The cooks of a day.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Crew {
    /// In the order in which their sheets are printed.
    pub cooks: Vec<Cook>,
    /// What an earlier schedule had them do: each keeps that work where it can. Empty if there is none.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub told: Vec<Job>,
}

/// One pair of hands.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Cook {
    /// What to call them.
    pub name: String,
    /// `[start, end)` of each presence, in order, not touching.
    pub present: Vec<[Minute; 2]>,
}

impl Cook {
    /// Whether the cook is there for all of `[from, until)`.
    pub fn is_present(&self, from: Minute, until: Minute) -> bool {
        self.present.iter().any(|&[start, end]| start <= from && until <= end)
    }
}

impl Crew {
    /// The cooks that the problem names, by their ids; otherwise as many cooks as the shifts have hands at most; the first is there whenever there is one hand, the second whenever
    /// there are two, and so on.
    pub fn of(problem: &Problem) -> Self {
        const MOST: i64 = 1000;
        if !problem.cooks.is_empty() {
            let cook = |cook: &problem::Cook| {
                let mut shifts: Vec<[Minute; 2]> = cook.shifts.iter().map(|hours| [hours.start, hours.end]).collect();
                shifts.sort_unstable();
                Cook { name: cook.id.clone(), present: joined(shifts) }
            };
            return Crew { cooks: problem.cooks.iter().map(cook).collect(), told: Vec::new() };
        }
        let mut shifts = problem.shifts.clone();
        shifts.sort_by_key(|shift| (shift.start, shift.end));
        let most = shifts.iter().map(|shift| shift.hands).max().unwrap_or(0).clamp(0, MOST);
        let cook = |number: i64| {
            let own = shifts.iter().filter(|shift| shift.hands >= number).map(|shift| [shift.start, shift.end]);
            Cook { name: format!("Cook {number}"), present: joined(own) }
        };
        Crew { cooks: (1..=most).map(cook).collect(), told: Vec::new() }
    }

    /// The cooks by name, as a compiled feast has them.
    pub fn named(labels: &Labels) -> Self {
        let cook = |cook: &CookLabel| {
            let mut shifts = cook.shifts.clone();
            shifts.sort_unstable();
            Cook { name: cook.name.clone(), present: joined(shifts) }
        };
        Crew { cooks: labels.cooks.iter().map(cook).collect(), told: Vec::new() }
    }

    /// The same cooks, who keep to what an earlier schedule had them do where they can. Cooks are known by their names.
    #[must_use]
    pub fn used_to(&self, earlier: &Schedule) -> Self {
        let index = |&cook: &usize| {
            let name = earlier.cooks.get(cook)?;
            self.cooks.iter().position(|own| own.name == *name)
        };
        let own = |job: &Job| Job { cooks: job.cooks.iter().filter_map(index).collect(), ..job.clone() };
        let told = earlier.jobs.iter().filter(|job| job.what.busy()).map(own).collect();
        Crew { cooks: self.cooks.clone(), told }
    }

    /// When anybody is there at all: in order, not touching.
    pub(super) fn presence(&self) -> Vec<[Minute; 2]> {
        let mut present: Vec<[Minute; 2]> = self.cooks.iter().flat_map(|cook| cook.present.iter().copied()).collect();
        present.sort_unstable();
        joined(present)
    }

    /// The minutes at which somebody comes or goes.
    pub(super) fn changes(&self) -> BTreeSet<Minute> {
        self.cooks.iter().flat_map(|cook| cook.present.iter().flatten().copied()).collect()
    }
}

/// Joins stretches that touch; in order of start.
fn joined(stretches: impl IntoIterator<Item = [Minute; 2]>) -> Vec<[Minute; 2]> {
    let mut joined: Vec<[Minute; 2]> = Vec::new();
    for [start, end] in stretches.into_iter().filter(|[start, end]| start < end) {
        match joined.last_mut() {
            Some(last) if last[1] >= start => last[1] = last[1].max(end),
            _ => joined.push([start, end]),
        }
    }
    joined
}

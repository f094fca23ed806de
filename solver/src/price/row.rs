//! Rows of the master program: what all timetables together may not exceed at a minute.

use super::domain::Way;
use crate::assignment::Choice;
use crate::instance::Time;

/// Which event of a step a term looks at.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Side {
    Start,
    End,
}

/// A way counts `times` if its start (or end) lies in `first..=last`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Term {
    pub(super) way: Way,
    pub(super) side: Side,
    pub(super) first: Time,
    pub(super) last: Time,
    pub(super) times: i64,
}

impl Term {
    /// What a choice in this way counts.
    pub(super) fn count(&self, choice: Choice) -> i64 {
        let minute = match self.side {
            Side::Start => choice.start,
            Side::End => choice.end,
        };
        if (self.first..=self.last).contains(&minute) { self.times } else { 0 }
    }
}

/// The sum of all terms over the chosen timetables is at most `rhs`.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Row {
    pub(super) rhs: i64,
    /// Sorted by way.
    pub(super) terms: Vec<Term>,
}

/// Before and after all minutes.
pub(super) const EVER: Time = Time::MAX / 4;

impl Row {
    pub(super) fn new(rhs: i64, mut terms: Vec<Term>) -> Self {
        terms.sort_unstable();
        Row { rhs, terms }
    }

    /// The terms of a way.
    pub(super) fn of_way(&self, way: Way) -> &[Term] {
        let first = self.terms.partition_point(|term| term.way < way);
        let last = first + self.terms[first..].partition_point(|term| term.way == way);
        &self.terms[first..last]
    }
}

/// Runs at this minute, each interval made longer by so many minutes before and after: `start - before <= t < end + after`.
pub(super) fn running(terms: &mut Vec<Term>, way: Way, minute: Time, times: i64, before: Time, after: Time) {
    terms.push(Term { way, side: Side::Start, first: -EVER, last: minute + before, times });
    terms.push(Term { way, side: Side::End, first: -EVER, last: minute - after, times: -times });
}

/// An event at `offset` from the start (or, with the end, before the end) holds `minutes` minutes of which `minute` is one.
pub(super) fn piece_from_start(
    terms: &mut Vec<Term>,
    way: Way,
    minute: Time,
    (offset, minutes): (Time, Time),
    times: i64,
) {
    let last = minute - offset;
    terms.push(Term { way, side: Side::Start, first: last - minutes + 1, last, times });
}

/// Needed over `[end - minutes, end)`.
pub(super) fn piece_before_end(terms: &mut Vec<Term>, way: Way, minute: Time, minutes: Time, times: i64) {
    terms.push(Term { way, side: Side::End, first: minute + 1, last: minute + minutes, times });
}

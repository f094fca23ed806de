//! How much of a resource there is, minute by minute.

use super::Time;

/// A step function of time: the capacity from each breakpoint to the next, 0 before the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Profile {
    /// `(from, capacity)`, sorted, neighbours different; the last one holds for ever.
    pieces: Vec<(Time, i64)>,
}

impl Profile {
    /// The same capacity at all times.
    pub(crate) fn constant(capacity: i64) -> Self {
        Profile { pieces: vec![(Time::MIN, capacity)] }
    }

    /// Capacity inside disjoint intervals `(start, end, capacity)`, none outside. Touching intervals join.
    pub(crate) fn of_shifts(mut shifts: Vec<(Time, Time, i64)>) -> Self {
        shifts.retain(|&(start, end, hands)| start < end && hands > 0);
        shifts.sort_unstable();
        let mut pieces: Vec<(Time, i64)> = vec![(Time::MIN, 0)];
        for (start, end, hands) in shifts {
            push(&mut pieces, start, hands);
            push(&mut pieces, end, 0);
        }
        Profile { pieces }
    }

    /// How many of these intervals `(start, end)` there are at each minute.
    pub(crate) fn of_overlapping(intervals: &[(Time, Time)]) -> Self {
        let mut changes: Vec<(Time, i64)> = intervals
            .iter()
            .filter(|(start, end)| start < end)
            .flat_map(|&(start, end)| [(start, 1), (end, -1)])
            .collect();
        changes.sort_unstable();
        let mut pieces = vec![(Time::MIN, 0)];
        let mut there = 0;
        for (minute, change) in changes {
            there += change;
            push(&mut pieces, minute, there);
        }
        Profile { pieces }
    }

    /// The capacity in this minute.
    pub(crate) fn at(&self, minute: Time) -> i64 {
        self.pieces[self.index(minute)].1
    }

    /// The least capacity over `[start, end)`; the capacity at `start` if that is empty.
    pub(crate) fn least(&self, start: Time, end: Time) -> i64 {
        let first = self.index(start);
        let later = self.pieces[first + 1..].iter().take_while(|piece| piece.0 < end);
        later.map(|piece| piece.1).fold(self.pieces[first].1, i64::min)
    }

    /// The most there ever is.
    pub(crate) fn most(&self) -> i64 {
        self.pieces.iter().map(|piece| piece.1).max().unwrap_or(0)
    }

    /// Whether there is more at some times than at others.
    pub(crate) fn varies(&self) -> bool {
        self.pieces.len() > 1
    }

    /// `(from, capacity)` pieces in order; the first starts at `Time::MIN`, the last holds for ever.
    pub(crate) fn pieces(&self) -> &[(Time, i64)] {
        &self.pieces
    }

    fn index(&self, minute: Time) -> usize {
        self.pieces.partition_point(|piece| piece.0 <= minute).saturating_sub(1)
    }
}

/// Appends a breakpoint, replacing one at the same minute and dropping it where nothing changes.
fn push(pieces: &mut Vec<(Time, i64)>, from: Time, capacity: i64) {
    if pieces.last().is_some_and(|last| last.0 == from) {
        pieces.pop();
    }
    if pieces.last().is_none_or(|last| last.1 != capacity) {
        pieces.push((from, capacity));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn touching_shifts_join_and_gaps_have_no_hands() {
        let profile = Profile::of_shifts(vec![(20, 30, 1), (0, 10, 2), (10, 15, 2)]);
        assert_eq!(profile.pieces(), [(Time::MIN, 0), (0, 2), (15, 0), (20, 1), (30, 0)]);
        assert_eq!(profile.least(0, 15), 2);
        assert_eq!(profile.least(14, 16), 0);
        assert_eq!(profile.at(29), 1);
        assert_eq!(profile.at(30), 0);
        assert_eq!(profile.most(), 2);
    }
}

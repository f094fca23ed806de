//! Going through time from change to change.

use std::collections::{BTreeMap, BTreeSet};

use crate::problem::Minute;

/// Calls `look` at each minute at which one of the half-open intervals starts or ends, or which is in `also`, with the
/// indices of the intervals that run in it.
pub(super) fn sweep(
    intervals: &[[Minute; 2]],
    also: impl IntoIterator<Item = Minute>,
    mut look: impl FnMut(Minute, &BTreeSet<usize>),
) {
    let mut changes: BTreeMap<Minute, Vec<(usize, bool)>> = BTreeMap::new();
    for minute in also {
        changes.entry(minute).or_default();
    }
    for (i, &[start, end]) in intervals.iter().enumerate().filter(|(_, [start, end])| start < end) {
        changes.entry(start).or_default().push((i, true));
        changes.entry(end).or_default().push((i, false));
    }
    let mut running = BTreeSet::new();
    for (minute, changes) in changes {
        for (i, starts) in changes {
            if starts {
                running.insert(i);
            } else {
                running.remove(&i);
            }
        }
        look(minute, &running);
    }
}

/// The first minute of each stretch of time in which too many intervals run together, with those that do.
///
/// `fits` is asked only where something is added to a set that fitted, or taken from one that did not.
pub(super) fn clashes<T>(
    intervals: &[[Minute; 2]],
    mut clash: impl FnMut(&BTreeSet<usize>) -> Option<T>,
) -> Vec<(Minute, Vec<usize>, T)> {
    let mut found = Vec::new();
    let mut before: BTreeSet<usize> = BTreeSet::new();
    let mut clashed = false;
    sweep(intervals, [], |minute, running| {
        let settled = if clashed { before.is_subset(running) } else { running.is_subset(&before) };
        if !settled {
            let answer = clash(running);
            let first = !clashed;
            clashed = answer.is_some();
            if let Some(clash) = answer.filter(|_| first) {
                found.push((minute, running.iter().copied().collect(), clash));
            }
        }
        before.clone_from(running);
    });
    found
}

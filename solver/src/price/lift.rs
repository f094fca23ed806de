//! Capacity over a few minutes at once: one step counts if it touches the window, all others if they fill it.
//!
//! At a minute of the window in which the one step is at work, all that fill the window are at work too, so together they
//! need no more than there is. A row for a single minute is the window of one minute.

use std::collections::BTreeMap;

use super::domain::Ways;
use super::row::{EVER, Row, Side, Term};
use super::separate::Share;
use crate::instance::{During, Instance, Need, Time};

/// The longest window, in minutes beyond the first.
const LONGEST: Time = 6;
/// How much a row must be exceeded to be worth its place.
const EXCESS: f64 = 0.02;
/// The most rows of one call.
const MOST: usize = 24;

/// Whether it belongs to the end of the step; of two pieces of a step only one may count by touching.
fn is_late(need: &Need) -> bool {
    matches!(need.during, During::BeforeEnd { .. })
}

/// Masses over stretches of minutes `(from, until, mass)`.
type Stretches = Vec<(Time, Time, f64)>;

/// Of the pieces of a mode the one that counts by touching, if the step is the one that may.
fn touching(pieces: &[Need], late: bool) -> Option<usize> {
    pieces.iter().position(|piece| is_late(piece) == late)
}

/// The most exceeded rows of this kind, in a fixed order.
pub(super) fn find(instance: &Instance<'_>, ways: &Ways, shares: &[Share]) -> Vec<Row> {
    let mut found: Vec<(f64, Row)> = Vec::new();
    for resource in 0..instance.resources.len() {
        for length in 1..=LONGEST {
            for (minute, step, late) in worst(instance, shares, resource, length) {
                let capacity = &instance.resources[resource].capacity;
                let most = (minute..=minute + length).map(|minute| capacity.at(minute)).max().unwrap_or(0);
                let row = build(instance, ways, (resource, most), (minute, length), (step, late));
                let used: f64 = shares.iter().map(|share| share.share * count(&row, ways, share) as f64).sum();
                if used > row.rhs as f64 + EXCESS {
                    found.push((used - row.rhs as f64, row));
                }
            }
        }
    }
    found.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(&b.1)));
    found.into_iter().take(MOST).map(|(_, row)| row).collect()
}

fn count(row: &Row, ways: &Ways, share: &Share) -> i64 {
    let terms = row.of_way(ways.way(share.step, share.choice.mode));
    terms.iter().map(|term| term.count(share.choice)).sum()
}

/// For each stretch of first minutes at which too much is needed the worst one, with the step that counts by touching.
fn worst(instance: &Instance<'_>, shares: &[Share], resource: usize, length: Time) -> Vec<(Time, usize, bool)> {
    let origin = instance.opening - LONGEST;
    let minutes = (instance.horizon - origin + 2).max(1) as usize;
    let mut filled = vec![0.0; minutes + 1];
    let mut more: BTreeMap<(usize, bool), Stretches> = BTreeMap::new();
    for share in shares {
        let mode = &instance.steps[share.step].modes[share.choice.mode];
        let pieces: Vec<Need> = mode.needs_of(resource).collect();
        for (index, piece) in pieces.iter().enumerate() {
            let (from, until) = piece.span(share.choice.start, share.choice.end);
            let mass = share.share * piece.amount as f64;
            let at = |minute: Time| ((minute - origin).max(0) as usize).min(minutes);
            if until - from > length {
                filled[at(from)] += mass;
                filled[at(until - length)] -= mass;
            }
            if touching(&pieces, is_late(piece)) == Some(index) {
                let list = more.entry((share.step, is_late(piece))).or_default();
                list.push((from - length, until, mass));
                if until - from > length {
                    list.push((from, until - length, -mass));
                }
            }
        }
    }
    let mut sum = 0.0;
    for value in &mut filled {
        sum += *value;
        *value = sum;
    }
    let mut best: Vec<(f64, Option<(usize, bool)>)> = vec![(0.0, None); minutes];
    let mut extra = vec![0.0; minutes + 1];
    for (key, list) in more {
        let first = list.iter().map(|piece| piece.0).min().unwrap_or(origin).max(origin) - origin;
        let last = list.iter().map(|piece| piece.1).max().unwrap_or(origin) - origin;
        let (first, last) = (first as usize, (last.max(0) as usize).min(minutes - 1));
        for &(from, until, mass) in &list {
            extra[((from - origin).max(0) as usize).min(minutes)] += mass;
            extra[((until - origin).max(0) as usize).min(minutes)] -= mass;
        }
        let mut sum = 0.0;
        for index in first..=last {
            sum += extra[index];
            if sum > best[index].0 + 1e-9 {
                best[index] = (sum, Some(key));
            }
        }
        extra[first..=(last + 1).min(minutes)].fill(0.0);
        extra[minutes] = 0.0;
    }
    let mut found = Vec::new();
    let mut peak: Option<(f64, Time, (usize, bool))> = None;
    let capacity = &instance.resources[resource].capacity;
    for (index, &(extra, key)) in best.iter().enumerate() {
        let minute = origin + index as Time;
        let most = (minute..=minute + length).map(|minute| capacity.at(minute)).max().unwrap_or(0);
        let excess = filled[index] + extra - most as f64;
        match key {
            Some((step, late)) if excess > EXCESS => {
                if peak.is_none_or(|(most, ..)| excess > most + 1e-9) {
                    peak = Some((excess, minute, (step, late)));
                }
            }
            _ => found.extend(peak.take().map(|(_, minute, (step, late))| (minute, step, late))),
        }
    }
    found.extend(peak.map(|(_, minute, (step, late))| (minute, step, late)));
    found
}

/// The row over `minute..=minute + length` in which one step counts by touching.
fn build(
    instance: &Instance<'_>,
    ways: &Ways,
    (resource, capacity): (usize, i64),
    (minute, length): (Time, Time),
    (one, late): (usize, bool),
) -> Row {
    let mut terms = Vec::new();
    let last = minute + length;
    for (way, &(step, mode)) in ways.of.iter().enumerate() {
        let mode = &instance.steps[step].modes[mode];
        let pieces: Vec<Need> = mode.needs_of(resource).collect();
        let lifted = if step == one { touching(&pieces, late) } else { None };
        for (index, &piece) in pieces.iter().enumerate() {
            let mut term = |side: Side, first: Time, last: Time, times: i64| {
                if first <= last {
                    terms.push(Term { way, side, first, last, times });
                }
            };
            let touches = lifted == Some(index);
            let amount = piece.amount;
            match piece.during {
                During::Whole if touches => {
                    term(Side::Start, -EVER, last, amount);
                    term(Side::End, -EVER, minute, -amount);
                }
                During::FromStart { offset, minutes } if touches => {
                    term(Side::Start, minute - offset - minutes + 1, last - offset, amount);
                }
                During::BeforeEnd { minutes } if touches => term(Side::End, minute + 1, last + minutes, amount),
                During::Whole if mode.min == mode.max => {
                    term(Side::Start, last - mode.min + 1, minute, amount);
                }
                // One that begins and ends inside the window counts less than nothing, which does no harm.
                During::Whole => {
                    term(Side::Start, -EVER, minute, amount);
                    term(Side::End, -EVER, last, -amount);
                }
                During::FromStart { offset, minutes } => {
                    term(Side::Start, last - offset - minutes + 1, minute - offset, amount);
                }
                During::BeforeEnd { minutes } => term(Side::End, last + 1, minute + minutes, amount),
            }
        }
    }
    Row::new(capacity, terms)
}

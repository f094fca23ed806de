//! Where a job could go instead.
//!
//! The job is taken out, and heads and tails of all others are worked out without it. Then the longest path through it at any
//! place of any machine is known at once. On each machine one of the best places lies after the jobs whose tails say that they
//! need not wait for it, and before those whose heads say that it need not wait for them; no place between them closes a
//! circle (M. Mastrolilli and L. M. Gambardella, "Effective neighbourhood functions for the flexible job shop problem", 2000).

use super::order::Order;
use super::shop::Shop;
use crate::instance::Time;

/// A place for a job.
#[derive(Clone, Copy, Debug)]
pub(super) struct Move {
    pub(super) job: usize,
    pub(super) way: usize,
    /// Its place in the line without it.
    pub(super) place: usize,
    /// The end of all after the move.
    pub(super) end: Time,
    /// The longest path through the job.
    pub(super) through: Time,
}

/// Heads and tails without a job.
#[derive(Default)]
pub(super) struct Without {
    heads: Vec<Time>,
    tails: Vec<Time>,
}

impl Without {
    /// Tells all places for a job that are worth a look, other than the one it has.
    pub(super) fn moves(&mut self, shop: &Shop, order: &Order, job: usize, mut tell: impl FnMut(Move)) {
        let end = self.take_out(shop, order, job);
        for (way, source) in shop.jobs[job].ways.iter().enumerate() {
            // By links alone: a place that they allow closes no circle, whenever the way is ready.
            let (linked, tail) = (self.heads[job], self.tails[job]);
            let head = linked.max(source.ready);
            let mut offer = |place: usize, head: Time, tail: Time| {
                let through = head + source.minutes + tail;
                tell(Move { job, way, place, end: end.max(through), through });
            };
            let Some(machine) = source.machine else {
                if way != order.ways[job] {
                    offer(0, head, tail);
                }
                continue;
            };
            let here = (order.machine(shop, job) == Some(machine)).then(|| order.place[job]);
            let line = &order.lines[machine];
            let count = line.len() - usize::from(here.is_some());
            let at = |place: usize| line[place + usize::from(here.is_some_and(|here| place >= here))];
            let done = |place: usize| self.heads[at(place)] + order.minutes[at(place)];
            let left = |place: usize| self.tails[at(place)] + order.minutes[at(place)];
            let places = 0..count;
            // The first that it need not wait for, and the first that may have to wait for it.
            let first = places.clone().find(|&place| done(place) > linked).unwrap_or(count);
            let last = places.rev().find(|&place| left(place) > tail).map_or(0, |place| place + 1);
            for place in first..=last.max(first) {
                if way == order.ways[job] && here == Some(place) {
                    continue;
                }
                let head = if place > 0 { head.max(done(place - 1)) } else { head };
                let tail = if place < count { tail.max(left(place)) } else { tail };
                offer(place, head, tail);
            }
        }
    }

    /// Heads and tails when the job takes no minute and no place on a machine, and when all others end then.
    fn take_out(&mut self, shop: &Shop, order: &Order, job: usize) -> Time {
        let (rank, minutes, sorted) = (order.rank[job], &order.minutes, &order.sorted);
        let Without { heads, tails } = self;
        heads.clone_from(&order.heads);
        tails.clone_from(&order.tails);
        let mut end = Time::MIN;
        for &other in &sorted[..rank] {
            if shop.jobs[other].after.is_empty() {
                end = end.max(heads[other] + minutes[other]);
            }
        }
        // Each way of the job has a minute of its own to be ready.
        let links = shop.jobs[job].before.iter();
        heads[job] = links.map(|&(before, gap)| heads[before] + minutes[before] + gap).fold(Time::MIN, Time::max);
        for &other in &sorted[rank + 1..] {
            let mut head = order.ready[other];
            let mut left = order.left[other];
            if left == job {
                left = order.left[job];
            }
            if let Some(&before) = heads.get(left) {
                head = head.max(before + minutes[left]);
            }
            for &(before, gap) in &shop.jobs[other].before {
                head = head.max(heads[before] + gap + if before == job { 0 } else { minutes[before] });
            }
            heads[other] = head;
            if shop.jobs[other].after.is_empty() {
                end = end.max(head + minutes[other]);
            }
        }
        let links = shop.jobs[job].after.iter();
        tails[job] = links.map(|&(after, gap)| gap + minutes[after] + tails[after]).fold(0, Time::max);
        for &other in sorted[..rank].iter().rev() {
            let mut right = order.right[other];
            if right == job {
                right = order.right[job];
            }
            let mut tail = tails.get(right).map_or(0, |&after| after + minutes[right]);
            for &(after, gap) in &shop.jobs[other].after {
                tail = tail.max(gap + tails[after] + if after == job { 0 } else { minutes[after] });
            }
            tails[other] = tail;
        }
        end
    }
}

//! A lower bound on lateness: there is too much to do in one place.
//!
//! **For** feasts whose hour cannot be kept, before any search. Between the least head (minutes that pass before) and the
//! least tail (minutes that pass after) of some steps there must be time for all of their work on one resource: hands, a
//! pool, the burners of a hob, an oven for pans that may not share it. It is the one-machine bound of shop scheduling, for
//! resources of any capacity (J. Carlier, "The one-machine sequencing problem", 1982;
//! named from memory, not read).
//!
//! **Promises** a bound that holds for every plan; it never finds one. **Costs** no work: it is run once, before the turns.

mod resources;
#[cfg(test)]
mod tests;

use std::cmp::Reverse;

use crate::board::Board;
use crate::instance::{Course, Instance, Time};
use resources::Demand;

/// Raises the bound on lateness by the work on each resource alone.
pub(crate) fn bound(board: &mut Board<'_, '_, '_>) {
    let instance = board.instance;
    let tails = tails(instance);
    let mut served: Vec<i64> = instance.windows.serve.iter().map(|span| i64::from(span.lo)).collect();
    for demand in resources::demands(instance) {
        for (course, served) in served.iter_mut().enumerate() {
            *served = (*served).max(earliest(instance, &demand, &tails, course));
        }
    }
    space_out(instance, &mut served);
    let last = instance.windows.serve.iter().map(|span| i64::from(span.hi));
    if served.iter().zip(last).any(|(&served, last)| served > last) {
        return board.refute();
    }
    let late = |(course, &served): (&Course, &i64)| course.weight * (served - i64::from(course.serve));
    board.raise(0, instance.courses.iter().zip(&served).map(late).sum());
}

/// The earliest minute at which a course can be served, as far as the work on one resource tells.
fn earliest(instance: &Instance<'_>, demand: &Demand, tails: &[Vec<Option<i64>>], course: usize) -> i64 {
    let job = |&(step, minutes): &(usize, i64)| {
        Some((instance.windows.start[step].lo, tails[step][course]?, i128::from(minutes)))
    };
    let mut jobs: Vec<(Time, i64, i128)> = demand.minutes.iter().filter_map(job).collect();
    jobs.sort_unstable_by_key(|&(head, ..)| Reverse(head));
    let mut tails: Vec<i64> = jobs.iter().map(|job| job.1).collect();
    tails.sort_unstable();
    tails.dedup();
    // For each tail the work of the steps with no less, among those with no less head than the one at hand.
    let mut sums = vec![0_i128; tails.len()];
    let mut earliest = i64::MIN;
    for (index, &(head, tail, minutes)) in jobs.iter().enumerate() {
        let until = tails.partition_point(|&other| other <= tail);
        sums[..until].iter_mut().for_each(|sum| *sum += minutes);
        if jobs.get(index + 1).is_some_and(|next| next.0 == head) {
            continue;
        }
        for (&tail, &sum) in tails.iter().zip(&sums).filter(|(_, sum)| **sum > 0) {
            let capacity = i128::from(demand.capacity);
            let minutes = i64::try_from((sum + capacity - 1) / capacity).unwrap_or(0);
            earliest = earliest.max(i64::from(head) + minutes + tail);
        }
    }
    earliest
}

/// Servings that follow others at a distance are no earlier than those let them.
fn space_out(instance: &Instance<'_>, served: &mut [i64]) {
    for _ in 0..served.len() {
        for (index, course) in instance.courses.iter().enumerate() {
            let Some((earlier, min, max)) = course.after else { continue };
            served[index] = served[index].max(served[earlier] + i64::from(min));
            if max != Time::MAX {
                served[earlier] = served[earlier].max(served[index] - i64::from(max));
            }
        }
    }
}

/// For each step and course the least minutes from the end of the step to the serving, along links; none if there is no way.
fn tails(instance: &Instance<'_>) -> Vec<Vec<Option<i64>>> {
    let mut tails: Vec<Vec<Option<i64>>> = vec![vec![None; instance.courses.len()]; instance.steps.len()];
    for &index in instance.order.iter().rev() {
        let step = &instance.steps[index];
        if let Some((course, _)) = step.sink {
            tails[index][course] = Some(0);
        }
        for link in step.after.iter().map(|&link| &instance.links[link]) {
            let least = instance.steps[link.to].modes.iter().map(|mode| mode.min).min().unwrap_or(0);
            let through = |tail: &Option<i64>| tail.map(|tail| i64::from(link.min) + i64::from(least) + tail);
            let through: Vec<Option<i64>> = tails[link.to].iter().map(through).collect();
            for (tail, through) in tails[index].iter_mut().zip(through) {
                *tail = (*tail).max(through);
            }
        }
    }
    tails
}

//! How late the servings are at least, because of how much there is to do in few places.
//!
//! Each stock (hands, a pool, the burners of a hob, an oven for pans that may not share it) is given a weight. A step burdens
//! the stocks with the minutes it needs of them, times their weights; with a choice of ways it does so at least as much as
//! the lightest of them. Between the least head (minutes that pass before) and the least tail (minutes that pass after) of
//! some steps there must be time for all of their burdens, whatever the weights. All weight on one stock is the classic bound
//! for one machine; the best weights for a choice of places are the prices of a small linear program (`weights`). The bound
//! is worked out in integers, so that it holds however those weights came about.

mod stocks;
#[cfg(test)]
mod tests;
mod weights;

#[cfg(test)]
pub(crate) use tests::race;

use std::cmp::Reverse;

use crate::board::Board;
use crate::instance::{Instance, Time};

/// Rounds of weights, each for the steps that the bound before rests on.
const ROUNDS: usize = 4;

/// Minutes of a stock, times how much of it is taken.
type Need = (usize, i64);

/// A step that burdens some stock in each of its ways.
struct Job {
    /// It starts no earlier.
    head: Time,
    /// For each course the least minutes from its end to the serving; none if it need not be done by then.
    tails: Vec<Option<i64>>,
    /// What each way needs.
    ways: Vec<Vec<Need>>,
}

/// The burdens of an instance.
pub(crate) struct Burden<'i, 'p> {
    instance: &'i Instance<'p>,
    jobs: Vec<Job>,
    /// How much there is of each stock at most.
    stocks: Vec<i64>,
    /// The least minute of each serving found so far.
    served: Vec<i64>,
    /// The bound on lateness so far.
    lateness: i64,
    /// Whether each stock has been looked at alone, and all of them together.
    is_done: [bool; 2],
}

/// A bound on a serving, and the steps that it rests on: those with no less head and no less tail.
#[derive(Clone, Copy)]
struct Reach {
    served: i64,
    head: Time,
    tail: i64,
}

impl<'i, 'p> Burden<'i, 'p> {
    pub(crate) fn new(instance: &'i Instance<'p>) -> Self {
        let (stocks, ways) = stocks::needs(instance);
        let tails = tails(instance);
        let jobs = ways.into_iter().zip(tails).zip(&instance.windows.start);
        let jobs = jobs.filter(|((ways, _), _)| ways.iter().all(|way| !way.is_empty()));
        let jobs = jobs.map(|((ways, tails), start)| Job { head: start.lo, tails, ways });
        let served = instance.windows.serve.iter().map(|span| i64::from(span.lo)).collect();
        Burden { instance, jobs: jobs.collect(), stocks, served, lateness: 0, is_done: [false; 2] }
    }

    /// Raises the bound on lateness by each stock alone, and, once asked again, by all of them together.
    pub(crate) fn run(&mut self, board: &mut Board<'_, '_, '_>) {
        let Some(next) = self.is_done.iter().position(|is_done| !is_done) else { return };
        self.is_done[next] = true;
        for course in 0..self.served.len() {
            if next == 0 {
                self.weigh_alone(course);
            } else {
                board.spend(self.weigh_together(course));
            }
        }
        self.space_out();
        let last = self.instance.windows.serve.iter().map(|span| i64::from(span.hi));
        if self.served.iter().zip(last).any(|(&served, last)| served > last) {
            return board.refute();
        }
        let lateness = self.instance.courses.iter().zip(&self.served);
        let lateness = lateness.map(|(course, &served)| course.weight * (served - i64::from(course.serve)));
        self.lateness = lateness.sum();
        board.raise(0, self.lateness);
    }

    /// The bound on lateness so far.
    pub(crate) fn lateness(&self) -> i64 {
        self.lateness
    }

    fn weigh_alone(&mut self, course: usize) {
        for stock in 0..self.stocks.len() {
            let mut weights = vec![0; self.stocks.len()];
            weights[stock] = 1;
            self.weigh(course, &weights);
        }
    }

    /// Looks for the best weights for all steps, then for those that the best bound rests on. Returns the work.
    fn weigh_together(&mut self, course: usize) -> u64 {
        let mut jobs: Vec<&Job> = self.jobs.iter().filter(|job| job.tails[course].is_some()).collect();
        // Without a choice of places no weights are better than all of it on one.
        if jobs.iter().all(|job| job.ways.len() < 2) {
            return 1;
        }
        let mut found: Vec<Vec<i64>> = Vec::new();
        let mut work = 1;
        for _ in 0..ROUNDS {
            let before = jobs.len();
            let ways: Vec<&[Vec<Need>]> = jobs.iter().map(|job| job.ways.as_slice()).collect();
            let (weights, pivots) = weights::best(&ways, &self.stocks);
            work += pivots;
            let Some(weights) = weights else { break };
            let reach = self.reach(course, &weights);
            found.push(weights);
            let Some(reach) = reach else { break };
            jobs.retain(|job| job.head >= reach.head && job.tails[course].is_some_and(|tail| tail >= reach.tail));
            if jobs.len() == before {
                break;
            }
        }
        found.iter().for_each(|weights| self.weigh(course, weights));
        work
    }

    fn weigh(&mut self, course: usize, weights: &[i64]) {
        if let Some(reach) = self.reach(course, weights) {
            self.served[course] = self.served[course].max(reach.served);
        }
    }

    /// The latest that the burdens under these weights make a serving at least.
    fn reach(&self, course: usize, weights: &[i64]) -> Option<Reach> {
        let capacity: i128 =
            (self.stocks.iter().zip(weights)).map(|(&stock, &w)| i128::from(stock) * i128::from(w)).sum();
        let burden = |way: &Vec<Need>| -> i128 {
            way.iter().map(|&(stock, need)| i128::from(need) * i128::from(weights[stock])).sum()
        };
        let burden = |job: &Job| job.ways.iter().map(burden).min().filter(|&burden| burden > 0);
        let jobs = self.jobs.iter().filter_map(|job| Some((job.head, job.tails[course]?, burden(job)?)));
        let mut jobs: Vec<(Time, i64, i128)> = jobs.collect();
        if capacity <= 0 {
            return None;
        }
        jobs.sort_unstable_by_key(|&(head, ..)| Reverse(head));
        let mut tails: Vec<i64> = jobs.iter().map(|job| job.1).collect();
        tails.sort_unstable();
        tails.dedup();
        // For each tail the burden of the steps with no less, among those with no less head than the one at hand.
        let mut sums = vec![0_i128; tails.len()];
        let mut best: Option<Reach> = None;
        for (index, &(head, tail, burden)) in jobs.iter().enumerate() {
            let until = tails.partition_point(|&other| other <= tail);
            sums[..until].iter_mut().for_each(|sum| *sum += burden);
            if jobs.get(index + 1).is_some_and(|next| next.0 == head) {
                continue;
            }
            for (&tail, &sum) in tails.iter().zip(&sums).filter(|(_, sum)| **sum > 0) {
                let minutes = i64::try_from((sum + capacity - 1) / capacity).unwrap_or(0);
                let served = i64::from(head) + minutes + tail;
                if best.is_none_or(|best| served > best.served) {
                    best = Some(Reach { served, head, tail });
                }
            }
        }
        best
    }

    /// Servings that follow others at a distance are no earlier than those let them.
    fn space_out(&mut self) {
        for _ in 0..self.served.len() {
            for (index, course) in self.instance.courses.iter().enumerate() {
                let Some((earlier, min, max)) = course.after else { continue };
                self.served[index] = self.served[index].max(self.served[earlier] + i64::from(min));
                if max != Time::MAX {
                    self.served[earlier] = self.served[earlier].max(self.served[index] - i64::from(max));
                }
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

//! Projects with scarce resources and lags from start to start, as steps and links from end to start.
//!
//! Links must not close a circle, lags may: a fixed order of the activities decides which way round each pair is linked. A
//! lag along the order is the least gap of the link, a lag against it the greatest.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use rangewright::models::problem::{Minute, Mode, Problem, Shift};

use super::{dish, link, race, rigid, step};

/// A project: activities that take up renewable resources, and lags between their starts.
pub(super) struct Network {
    pub(super) activities: Vec<Activity>,
    /// `start(to) >= start(from) + lag`; never from an activity to itself.
    pub(super) lags: Vec<Lag>,
    pub(super) capacities: Vec<i64>,
}

pub(super) struct Activity {
    pub(super) duration: Minute,
    /// For each resource.
    pub(super) demands: Vec<i64>,
}

#[derive(Clone, Copy)]
pub(super) struct Lag {
    pub(super) from: usize,
    pub(super) to: usize,
    pub(super) lag: Minute,
}

impl Network {
    /// The first resource becomes hands, the others become pools.
    pub(super) fn to_problem(&self, name: &str) -> Problem {
        let horizon = self.horizon();
        let id = |activity: usize| format!("a{activity:02}");
        let gaps = self.gaps(horizon);
        let ends: Vec<usize> = (0..self.activities.len()).filter(|a| gaps.keys().all(|(from, _)| from != a)).collect();
        let mut problem = race(name, horizon, &ends.iter().map(|end| id(*end)).collect::<Vec<_>>());

        let mut capacities = self.capacities.iter();
        problem.shifts =
            capacities.next().map(|hands| Shift { start: 0, end: horizon, hands: *hands }).into_iter().collect();
        problem.pools = capacities.enumerate().map(|(index, capacity)| (pool_id(index), *capacity)).collect();
        // Each end has a dish of its own; whatever leads there belongs to the last of them.
        problem.dishes = ends.iter().map(|end| dish(&id(*end))).collect();
        let last = ends.last().copied().unwrap_or_default();
        for (a, activity) in self.activities.iter().enumerate() {
            let dish_id = id(if ends.contains(&a) { a } else { last });
            problem.steps.push(step(&id(a), &dish_id, "activity", vec![activity.mode()]));
        }
        for ((from, to), Gap { min, max }) in gaps {
            if max.is_some_and(|max| max < min) {
                // One link with such a gap would be a slip of the pen and refused; two links contradict each other.
                problem.links.push(link(&id(from), &id(to), min, None));
                problem.links.push(link(&id(from), &id(to), -horizon, max));
            } else {
                problem.links.push(link(&id(from), &id(to), min, max));
            }
        }
        problem
    }

    /// A schedule exists within this many minutes, if there is one at all: some activity always runs or some lag passes.
    fn horizon(&self) -> Minute {
        let mut longest: Vec<Minute> = self.activities.iter().map(|activity| activity.duration).collect();
        for lag in &self.lags {
            longest[lag.from] = longest[lag.from].max(lag.lag);
        }
        // The last activity may run on after the last start.
        let last = self.activities.iter().map(|activity| activity.duration).max().unwrap_or_default();
        (longest.iter().sum::<Minute>() + last).max(1)
    }

    /// The gap of each linked pair. Where `max < min` the lags contradict each other.
    fn gaps(&self, horizon: Minute) -> BTreeMap<(usize, usize), Gap> {
        let rank = self.ranks();
        let mut gaps = BTreeMap::new();
        for Lag { from, to, lag } in self.lags.iter().copied() {
            let along = rank[from] < rank[to];
            let (first, second) = if along { (from, to) } else { (to, from) };
            let gap = gaps.entry((first, second)).or_insert(Gap { min: -horizon, max: None });
            let duration = self.activities[first].duration;
            if along {
                gap.min = gap.min.max(lag - duration);
            } else {
                let max = -lag - duration;
                gap.max = Some(gap.max.map_or(max, |known: Minute| known.min(max)));
            }
        }
        gaps
    }

    /// The place of each activity in an order along the lags that are not negative, lowest number first; by number where
    /// these close a circle.
    fn ranks(&self) -> Vec<usize> {
        let count = self.activities.len();
        let forward = || self.lags.iter().filter(|lag| lag.lag >= 0);
        let mut open = vec![0_usize; count];
        forward().for_each(|lag| open[lag.to] += 1);
        let mut ready: BinaryHeap<_> = (0..count).filter(|a| open[*a] == 0).map(Reverse).collect();
        let mut rank = vec![0; count];
        let mut placed = 0;
        while let Some(Reverse(next)) = ready.pop() {
            rank[next] = placed;
            placed += 1;
            for lag in forward().filter(|lag| lag.from == next) {
                open[lag.to] -= 1;
                if open[lag.to] == 0 {
                    ready.push(Reverse(lag.to));
                }
            }
        }
        if placed == count { rank } else { (0..count).collect() }
    }
}

struct Gap {
    min: Minute,
    max: Option<Minute>,
}

fn pool_id(index: usize) -> String {
    format!("r{}", index + 2)
}

impl Activity {
    fn mode(&self) -> Mode {
        let mut mode = rigid(self.duration);
        // What takes no time takes no resource either.
        if self.duration > 0 {
            let mut demands = self.demands.iter();
            mode.hands = demands.next().copied().unwrap_or_default();
            mode.pools = demands
                .enumerate()
                .filter(|(_, demand)| **demand > 0)
                .map(|(index, demand)| (pool_id(index), *demand))
                .collect();
        }
        mode
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn network(durations: &[Minute], lags: &[(usize, usize, Minute)]) -> Network {
        Network {
            activities: durations
                .iter()
                .map(|duration| Activity { duration: *duration, demands: vec![1, 2] })
                .collect(),
            lags: lags.iter().map(|(from, to, lag)| Lag { from: *from, to: *to, lag: *lag }).collect(),
            capacities: vec![1, 2],
        }
    }

    fn gap(problem: &Problem, from: &str, to: &str) -> Option<(Minute, Option<Minute>)> {
        problem.links.iter().find(|link| link.from == from && link.to == to).map(|link| (link.min, link.max))
    }

    #[test]
    fn lags_become_gaps_along_a_fixed_order() {
        // Activity 2 comes before 1 along the lags; 3 must start no later than 9 after 2.
        let problem = network(&[0, 4, 5, 6, 0], &[(0, 2, 0), (2, 1, 5), (1, 3, 1), (3, 2, -9), (1, 4, 4), (3, 4, 6)])
            .to_problem("n");
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
        assert_eq!(gap(&problem, "a02", "a01"), Some((0, None)));
        assert_eq!(gap(&problem, "a01", "a03"), Some((-3, None)));
        let horizon = problem.courses[0].max_slip;
        assert_eq!(horizon, 4 + 5 + 6 + 6);
        assert_eq!(
            gap(&problem, "a02", "a03"),
            Some((-horizon, Some(4))),
            "a greatest lag alone leaves the least open"
        );
        assert_eq!(problem.courses[0].sinks.len(), 1);
        assert_eq!(problem.steps[0].modes[0].hands, 0, "an activity of no minutes takes nothing");
        assert_eq!(problem.steps[1].modes[0].hands, 1);
        assert_eq!(problem.steps[1].modes[0].pools.get("r2"), Some(&2));
    }

    #[test]
    fn contradicting_lags_are_impossible_not_refused() {
        let problem = network(&[2, 2], &[(0, 1, 5), (1, 0, -4)]).to_problem("n");
        let gaps: Vec<_> = problem.links.iter().map(|link| (link.min, link.max)).collect();
        assert_eq!(gaps, [(3, None), (-9, Some(2))]);
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
    }

    #[test]
    fn a_circle_of_lags_falls_back_on_the_numbers() {
        let problem = network(&[2, 2], &[(1, 0, 3), (0, 1, 0)]).to_problem("n");
        let gaps: Vec<_> = problem.links.iter().map(|link| (link.from.as_str(), link.min, link.max)).collect();
        assert_eq!(gaps, [("a00", -2, None), ("a00", -7, Some(-5))]);
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
    }

    #[test]
    fn several_ends_are_dishes_of_one_course() {
        let problem = network(&[1, 2, 3], &[(0, 2, 1)]).to_problem("n");
        assert!(problem.faults().is_empty(), "{:?}", problem.faults());
        assert_eq!(problem.dishes.len(), 2);
        assert_eq!(problem.courses[0].sinks.len(), 2);
    }
}

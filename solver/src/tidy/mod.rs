//! Tidies a finished plan: what costs nothing is put where a cook would put it.
//!
//! None of the three goals gets worse. In this order: fewer hands-on minutes in the hour before each serving, fewer whole half
//! hours waited that cost nothing, fewer starts of hands-on work off the five-minute marks, fewer minutes of such waiting.

use crate::assignment::{Assignment, Choice, Cost};
use crate::instance::{HANDS, Instance, Rate, Time};
use crate::local::{Ledger, Units, valid};

/// Minutes before a serving that should be free of work that can be done earlier.
const LAST_HOUR: Time = 60;

/// Hands-on work best starts at minutes that divide by this.
const MARK: Time = 5;

/// Waiting of less than this is worth a start at a mark.
const SHORT: i64 = 30;

/// Hands-on minutes in the last hours, long idle waits, starts off the marks, idle minutes: compared in this order.
type Untidiness = [i64; 4];

/// The plan tidied, with at most so many moves looked at, or as far as it got when told to stop. An assignment that is not valid comes back as it is.
///
/// Moves shift a run of neighbouring starts and ends along a path of steps, so that only what lies at its two ends becomes
/// longer or shorter.
pub(crate) fn tidy(instance: &Instance<'_>, assignment: Assignment, work_units: u64) -> Assignment {
    if !valid(instance, &assignment) {
        return assignment;
    }
    let mut tidier = Tidier::new(instance, assignment);
    let mut left = work_units;
    while left > 0 && !instance.halt.said() && tidier.pass(&mut left) {}
    tidier.plan
}

struct Tidier<'i> {
    instance: &'i Instance<'i>,
    units: Units,
    ledger: Ledger<'i>,
    plan: Assignment,
    cost: Cost,
}

impl<'i> Tidier<'i> {
    fn new(instance: &'i Instance<'i>, plan: Assignment) -> Self {
        let mut ledger = Ledger::new(instance);
        for (step, &choice) in plan.steps.iter().enumerate() {
            ledger.book(step, choice);
        }
        let cost = plan.cost(instance);
        Tidier { instance, units: Units::new(instance), ledger, plan, cost }
    }

    /// Tries all moves once. Says whether any was made.
    fn pass(&mut self, left: &mut u64) -> bool {
        let mut moved = false;
        for unit in 0..self.units.units.len() {
            let path = self.units.units[unit].steps.clone();
            let events = 2 * path.len();
            for first in 0..events {
                for last in first..events {
                    if *left == 0 || self.instance.halt.said() {
                        return moved;
                    }
                    moved |= self.shift(&path, first, last, left);
                }
            }
        }
        moved
    }

    /// Shifts the events `first..=last` of a path (even: starts, odd: ends) to where it is tidiest.
    fn shift(&mut self, path: &[usize], first: usize, last: usize, left: &mut u64) -> bool {
        let steps = &path[first / 2..=last / 2];
        let old: Vec<Choice> = steps.iter().map(|&step| self.plan.steps[step]).collect();
        let shifted = |minutes: Time| -> Vec<Choice> {
            let event = |index: usize, minute: Time| {
                if (first..=last).contains(&index) { minute + minutes } else { minute }
            };
            let moved = old.iter().enumerate().map(|(number, choice)| {
                let index = 2 * (first / 2 + number);
                Choice { mode: choice.mode, start: event(index, choice.start), end: event(index + 1, choice.end) }
            });
            moved.collect()
        };
        let (least, most) = self.room(path, first, last);
        if least >= most {
            return false;
        }
        let now = self.untidiness(steps);
        let mut ways: Vec<(Untidiness, Time)> = Vec::new();
        for minutes in (least..=most).filter(|minutes| *minutes != 0) {
            *left = left.saturating_sub(1);
            self.put(steps, &shifted(minutes));
            let then = self.untidiness(steps);
            if then < now {
                ways.push((then, minutes));
            }
        }
        self.put(steps, &old);
        // The tidiest first, of equals the smallest shift.
        ways.sort_unstable_by_key(|&(untidiness, minutes)| (untidiness, minutes.abs(), minutes));
        ways.iter().any(|&(_, minutes)| {
            *left = left.saturating_sub(1);
            self.accept(steps, &shifted(minutes), &old)
        })
    }

    /// How far these events may move, earlier and later, by lengths, links, windows and servings.
    fn room(&self, path: &[usize], first: usize, last: usize) -> (Time, Time) {
        let instance = self.instance;
        let (mut least, mut most) = (Time::MIN / 4, Time::MAX / 4);
        let mut allow = |value: Time, lo: Time, hi: Time| {
            least = least.max(lo.saturating_sub(value));
            most = most.min(hi.saturating_sub(value));
        };
        let moves = |step: usize, end: bool| {
            let index = path.iter().position(|&other| other == step);
            index.is_some_and(|index| (first..=last).contains(&(2 * index + usize::from(end))))
        };
        for &step in &path[first / 2..=last / 2] {
            let (source, choice) = (&instance.steps[step], self.plan.steps[step]);
            let mode = &source.modes[choice.mode];
            let (start, end) = (moves(step, false), moves(step, true));
            if start {
                allow(choice.start, source.earliest.max(mode.ready), instance.horizon);
                for link in source.before.iter().map(|&link| &instance.links[link]) {
                    if !moves(link.from, true) {
                        let from = self.plan.steps[link.from].end;
                        allow(choice.start - from, link.min, link.max);
                    }
                }
            }
            if end {
                allow(choice.end, instance.opening, source.latest);
                for link in source.after.iter().map(|&link| &instance.links[link]) {
                    if !moves(link.to, false) {
                        let to = self.plan.steps[link.to].start;
                        allow(choice.end - to, link.max.saturating_neg(), -link.min);
                    }
                }
                if let Some((course, _)) = source.sink {
                    let served = self.plan.served[course];
                    allow(choice.end, served - instance.courses[course].together, served);
                }
            }
            let length = choice.end - choice.start;
            match (start, end) {
                (true, false) => allow(-length, -mode.max, -mode.min),
                (false, true) => allow(length, mode.min, mode.max),
                _ => {}
            }
        }
        (least, most)
    }

    fn put(&mut self, steps: &[usize], choices: &[Choice]) {
        for (&step, &choice) in steps.iter().zip(choices) {
            self.plan.steps[step] = choice;
        }
    }

    /// Keeps the shift if the kitchen allows it and no goal gets worse.
    fn accept(&mut self, steps: &[usize], new: &[Choice], old: &[Choice]) -> bool {
        for &step in steps {
            self.ledger.unbook(step);
        }
        let mut fits = true;
        for (&step, &choice) in steps.iter().zip(new) {
            fits = fits && self.ledger.clash(step, choice).is_none();
            self.ledger.book(step, choice);
        }
        self.put(steps, new);
        let cost = self.plan.cost(self.instance);
        if fits && cost.iter().zip(&self.cost).all(|(new, old)| new <= old) {
            debug_assert!(valid(self.instance, &self.plan), "what the ledger and the links allow is valid");
            self.cost = cost;
            return true;
        }
        for (&step, &choice) in steps.iter().zip(old) {
            self.ledger.unbook(step);
            self.ledger.book(step, choice);
        }
        self.put(steps, old);
        false
    }

    /// What is untidy about some steps, as the plan has them.
    fn untidiness(&self, steps: &[usize]) -> Untidiness {
        let instance = self.instance;
        let mut sum = [0; 4];
        let mut waits = Vec::new();
        for &step in steps {
            let (source, choice) = (&instance.steps[step], self.plan.steps[step]);
            let mode = &source.modes[choice.mode];
            for need in mode.needs_of(HANDS) {
                let (start, end) = need.span(choice.start, choice.end);
                for &served in &self.plan.served {
                    sum[0] += need.amount * i64::from((end.min(served) - start.max(served - LAST_HOUR)).max(0));
                }
                sum[2] += i64::from(start.rem_euclid(MARK) != 0);
            }
            waits.push(idle(mode.wait, choice.end - choice.start - mode.min));
            for link in source.before.iter().map(|&link| &instance.links[link]) {
                waits.push(idle(link.wait, choice.start - self.plan.steps[link.from].end - link.min));
            }
            // Links to steps of this run are counted there.
            for link in source.after.iter().map(|&link| &instance.links[link]).filter(|link| !steps.contains(&link.to))
            {
                waits.push(idle(link.wait, self.plan.steps[link.to].start - choice.end - link.min));
            }
            if let Some((course, rate)) = source.sink {
                waits.push(idle(rate, self.plan.served[course] - choice.end));
            }
        }
        for wait in waits {
            sum[1] += wait / SHORT;
            sum[3] += wait;
        }
        sum
    }
}

/// Minutes of a wait that cost nothing.
fn idle(rate: Rate, minutes: Time) -> i64 {
    if rate.rate > 0 { 0 } else { i64::from(minutes.min(rate.soft)) }
}

#[cfg(test)]
mod tests;

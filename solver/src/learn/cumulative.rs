//! A cumulative resource, by the minutes in which steps must run.

use super::literal::{Expr, Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Trail};
use crate::instance::Time;

/// A need over `[start, end)`, if it is there at all.
#[derive(Clone, Copy, Debug)]
pub(super) struct Task {
    pub(super) present: Lit,
    pub(super) start: Expr,
    pub(super) end: Expr,
    /// It lasts at least this long, if it is there; at least 1.
    pub(super) min: Time,
    pub(super) amount: i64,
}

impl Task {
    /// The minutes in which it must run: from its latest start to its earliest end.
    pub(super) fn core(&self, trail: &Trail) -> (Time, Time) {
        (self.latest_start(trail), self.earliest_end(trail))
    }

    pub(super) fn latest_start(&self, trail: &Trail) -> Time {
        trail.most(self.start).min(trail.most(self.end) - self.min)
    }

    pub(super) fn earliest_end(&self, trail: &Trail) -> Time {
        trail.least(self.end).max(trail.least(self.start) + self.min)
    }

    /// The fact that it starts no later, in a form that holds now.
    pub(super) fn starts_by(&self, trail: &Trail, minute: Time) -> Lit {
        let lit = self.start.at_most(minute);
        if trail.holds(lit) { lit } else { self.end.at_most(minute + self.min) }
    }

    /// The fact that it ends no earlier, in a form that holds now.
    pub(super) fn ends_from(&self, trail: &Trail, minute: Time) -> Lit {
        let lit = self.end.at_least(minute);
        if trail.holds(lit) { lit } else { self.start.at_least(minute - self.min) }
    }

    /// The facts that it runs at this minute.
    pub(super) fn runs_at(&self, trail: &Trail, minute: Time, why: &mut Vec<Lit>) {
        why.extend([self.present, self.starts_by(trail, minute), self.ends_from(trail, minute + 1)]);
    }

    pub(super) fn sides(&self) -> [Side; 6] {
        let (start, end) = (self.start.side, self.end.side);
        [start, start ^ 1, end, end ^ 1, self.present.side, self.present.side ^ 1]
    }
}

/// A stretch of time in which the same is used.
#[derive(Clone, Copy, Debug)]
struct Segment {
    from: Time,
    to: Time,
    used: i64,
}

/// The rule for one resource.
pub(super) struct Cumulative {
    pub(super) tasks: Vec<Task>,
    /// `(from, to, amount)`: what is missing from the full capacity, and when.
    pub(super) missing: Vec<(Time, Time, i64)>,
    pub(super) capacity: i64,
    events: Vec<(Time, i64)>,
    segments: Vec<Segment>,
}

impl Cumulative {
    /// The tasks should come in falling order of their amounts: then reasons are short.
    pub(super) fn new(mut tasks: Vec<Task>, missing: Vec<(Time, Time, i64)>, capacity: i64) -> Self {
        tasks.sort_by_key(|task| std::cmp::Reverse(task.amount));
        Cumulative { tasks, missing, capacity, events: Vec::new(), segments: Vec::new() }
    }

    fn build(&mut self, trail: &Trail) {
        self.events.clear();
        for &(from, to, amount) in &self.missing {
            self.events.extend([(from, amount), (to, -amount)]);
        }
        for task in &self.tasks {
            let (from, to) = task.core(trail);
            if from < to && trail.holds(task.present) {
                self.events.extend([(from, task.amount), (to, -task.amount)]);
            }
        }
        self.events.sort_unstable();
        self.segments.clear();
        let mut used = 0;
        let mut since = Time::MIN;
        for &(minute, change) in &self.events {
            if minute > since && used > 0 {
                self.segments.push(Segment { from: since, to: minute, used });
            }
            since = minute;
            used += change;
        }
    }

    /// Facts that show that more than `free` is used at this minute, not counting task `but`.
    fn why(&self, trail: &Trail, minute: Time, free: i64, but: usize, why: &mut Vec<Lit>) {
        let missing = self.missing.iter().filter(|&&(from, to, _)| from <= minute && minute < to);
        let mut used: i64 = missing.map(|&(_, _, amount)| amount).sum();
        for (index, task) in self.tasks.iter().enumerate() {
            if used > free {
                return;
            }
            let (from, to) = task.core(trail);
            if index != but && from <= minute && minute < to && trail.holds(task.present) {
                used += task.amount;
                task.runs_at(trail, minute, why);
            }
        }
    }

    /// Whether nothing but missing capacity stands in the way over the whole segment.
    fn is_missing(&self, segment: Segment, free: i64) -> bool {
        let covers = self.missing.iter().filter(|&&(from, to, _)| from <= segment.from && segment.to <= to);
        covers.map(|&(_, _, amount)| amount).sum::<i64>() > free
    }

    fn push(&self, trail: &mut Trail, index: usize) -> Result<(), Conflict> {
        let task = self.tasks[index];
        let free = self.capacity - task.amount;
        if !trail.holds(task.present) {
            return self.rule_out(trail, index, free);
        }
        let (core_from, core_to) = task.core(trail);
        let foreign = |segment: &Segment| segment.used > free && (segment.from < core_from || segment.to > core_to);
        // From the left: whoever ends after a full minute and starts before its end would run in it.
        let mut start = trail.least(task.start);
        for &segment in self.segments.iter().filter(|&segment| foreign(segment)) {
            if segment.to <= start {
                continue;
            }
            loop {
                let end = trail.least(task.end).max(start + task.min);
                if end <= segment.from || start >= segment.to {
                    break;
                }
                let all = self.is_missing(segment, free);
                let minute = if all { segment.from } else { segment.to.min(end) - 1 };
                start = if all { segment.to } else { minute + 1 };
                trail.set_because(task.start.at_least(start), |trail, why| {
                    why.extend([task.present, task.ends_from(trail, minute + 1)]);
                    self.why(trail, minute, free, index, why);
                })?;
            }
            if trail.least(task.end).max(start + task.min) <= segment.from {
                break;
            }
        }
        let mut end = trail.most(task.end);
        for &segment in self.segments.iter().rev().filter(|&segment| foreign(segment)) {
            if segment.from >= end {
                continue;
            }
            loop {
                let start = trail.most(task.start).min(end - task.min);
                if start >= segment.to || end <= segment.from {
                    break;
                }
                let all = self.is_missing(segment, free);
                let minute = if all { segment.to - 1 } else { segment.from.max(start) };
                end = if all { segment.from } else { minute };
                trail.set_because(task.end.at_most(end), |trail, why| {
                    why.extend([task.present, task.starts_by(trail, minute)]);
                    self.why(trail, minute, free, index, why);
                })?;
            }
            if trail.most(task.start).min(end - task.min) >= segment.to {
                break;
            }
        }
        Ok(())
    }

    /// A task that may be there: not if it would have to run in a full minute.
    fn rule_out(&self, trail: &mut Trail, index: usize, free: i64) -> Result<(), Conflict> {
        let task = self.tasks[index];
        let (latest_start, earliest_end) = (task.latest_start(trail), task.earliest_end(trail));
        let hit = self
            .segments
            .iter()
            .find(|segment| segment.used > free && latest_start < segment.to && earliest_end > segment.from);
        let Some(&segment) = hit else { return Ok(()) };
        let all = self.is_missing(segment, free);
        trail.set_because(task.present.opposite(), |trail, why| {
            // With a core, any minute in both will do; without one, the task cannot avoid the segment as a whole.
            let minute = segment.from.max(latest_start);
            if minute < segment.to.min(earliest_end) {
                why.extend([task.starts_by(trail, minute), task.ends_from(trail, minute + 1)]);
                self.why(trail, minute, free, index, why);
            } else {
                why.extend([task.starts_by(trail, segment.to - 1), task.ends_from(trail, segment.from + 1)]);
                if !all {
                    self.why_throughout(trail, segment, free, index, why);
                }
            }
        })
    }

    /// Facts that show that more than `free` is used over the whole segment.
    fn why_throughout(&self, trail: &Trail, segment: Segment, free: i64, but: usize, why: &mut Vec<Lit>) {
        let covers = self.missing.iter().filter(|&&(from, to, _)| from <= segment.from && segment.to <= to);
        let mut used: i64 = covers.map(|&(_, _, amount)| amount).sum();
        for (index, task) in self.tasks.iter().enumerate() {
            if used > free {
                return;
            }
            let (from, to) = task.core(trail);
            if index != but && from <= segment.from && segment.to <= to && trail.holds(task.present) {
                used += task.amount;
                why.extend([task.present, task.starts_by(trail, segment.from), task.ends_from(trail, segment.to)]);
            }
        }
    }
}

impl Propagator for Cumulative {
    fn sides(&self) -> Vec<Side> {
        self.tasks.iter().flat_map(Task::sides).collect()
    }

    fn rank(&self) -> usize {
        1
    }

    fn propagate(&mut self, trail: &mut Trail, _: u32) -> Result<(), Conflict> {
        self.build(trail);
        let Some(&fullest) = self.segments.iter().max_by_key(|segment| segment.used) else { return Ok(()) };
        if fullest.used > self.capacity {
            let none = self.tasks.len();
            return Err(trail.clash(|trail, why| self.why(trail, fullest.from, self.capacity, none, why)));
        }
        for index in 0..self.tasks.len() {
            let task = self.tasks[index];
            let settled = trail.is_fixed(task.start.side) && trail.is_fixed(task.end.side) && trail.holds(task.present);
            if fullest.used + task.amount > self.capacity && !settled && !trail.fails(task.present) {
                self.push(trail, index)?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::learn::trail::Reason;

    fn task(start: Expr, minutes: Time, amount: i64) -> Task {
        Task { present: Lit::TRUE, start, end: start.plus(minutes), min: minutes, amount }
    }

    /// Whether all facts of the reason of a literal held before it, and alone imply it.
    fn explained(trail: &Trail, lit: Lit, mut rule: Cumulative, domains: &[(Time, Time)]) {
        let entry = trail.entries[trail.cause(lit).expect("caused")];
        let Reason::Note { start, len } = entry.reason else { panic!("noted") };
        let mut alone = Trail::new();
        for &(lo, hi) in domains {
            alone.variable(lo, hi);
        }
        alone.new_level();
        for &fact in trail.noted(start, len) {
            alone.set(fact, Reason::Chosen).expect("facts agree");
        }
        alone.set(lit.opposite(), Reason::Chosen).expect("not implied without the rule");
        assert!(rule.propagate(&mut alone, 0).is_err(), "the facts do not imply {lit:?}");
    }

    #[test]
    fn a_core_pushes_what_does_not_fit_beside_it() {
        let mut trail = Trail::new();
        let domains = [(0, 20), (0, 20), (0, 20)];
        let [x, y, z] = domains.map(|(lo, hi)| trail.variable(lo, hi));
        let tasks = vec![task(x, 6, 2), task(y, 4, 1), task(z, 5, 2)];
        let rule = || Cumulative::new(tasks.clone(), vec![(12, 14, 3)], 3);
        trail.new_level();
        // x runs over [5, 8) for certain; z starts after 2 and cannot share with it.
        trail.set(x.at_least(2), Reason::Chosen).expect("free");
        trail.set(x.at_most(5), Reason::Chosen).expect("free");
        trail.set(z.at_least(3), Reason::Chosen).expect("free");
        rule().propagate(&mut trail, 0).expect("free");
        // Past x at 8 it would run into the missing minutes: on to 14.
        assert_eq!(trail.least(z), 14);
        explained(&trail, z.at_least(7), rule(), &domains);
        explained(&trail, z.at_least(14), rule(), &domains);
        assert_eq!(trail.least(y), 0, "y fits beside x");
        // Three minutes of x fill the place: z over it is a conflict.
        trail.back_to(0, |_| {});
        trail.new_level();
        for lit in [x.at_least(5), x.at_most(5), z.at_least(4), z.at_most(4)] {
            trail.set(lit, Reason::Chosen).expect("free");
        }
        assert!(rule().propagate(&mut trail, 0).is_err());
    }
}

//! Tasks of which no two may overlap: what a whole set of them says about one more.
//!
//! *Edge finding*: if a set together with one more task cannot be done by the set's latest end, that task comes last of all.
//! *Precedences*: a task starts after all that must come before it have had their turn.
//! Both work on starts; for ends the same rule looks at the mirrored tasks.
//! (P. Vilim, "Global constraints in scheduling", 2007; the explanations are written down from the rules themselves.)

use super::cumulative::Task;
use super::literal::{Lit, Side};
use super::propagator::Propagator;
use super::trail::{Bounds, Conflict, Past, Reason, Trail};
use crate::instance::Time;

/// The rule for one set of tasks, in one direction of time.
pub(super) struct Disjunctive {
    tasks: Vec<Task>,
    /// For each pair `(i, j)`, row by row: a literal that says that `j` comes before `i`.
    before: Vec<Lit>,
    facts: Vec<Fact>,
    by_start: Vec<usize>,
    by_end: Vec<usize>,
    in_set: Vec<bool>,
    after: Vec<Tail>,
}

/// What is known of a task at a moment.
#[derive(Clone, Copy, Default)]
struct Fact {
    present: bool,
    possible: bool,
    earliest_start: Time,
    earliest_end: Time,
    latest_start: Time,
    latest_end: Time,
}

/// The earliest end and the minutes of all tasks of a set from some place in the order of starts on.
#[derive(Clone, Copy)]
struct Tail {
    end: Time,
    minutes: Time,
}

/// Remarks: how a change was found; the task is added.
const EDGE: u32 = 0;
const PRECEDENCE: u32 = 1 << 16;
const EDGE_OUT: u32 = 2 << 16;
const PRECEDENCE_OUT: u32 = 3 << 16;
const TASK: u32 = (1 << 16) - 1;

/// No task: nothing ends this early.
const NEVER: Time = Time::MIN / 4;

impl Disjunctive {
    /// `before` holds, for each pair `(i, j)`, the literal "j comes before i" or one that never holds.
    pub(super) fn new(tasks: Vec<Task>, before: Vec<Lit>) -> Self {
        let count = tasks.len();
        Disjunctive {
            tasks,
            before,
            facts: Vec::new(),
            by_start: (0..count).collect(),
            by_end: (0..count).collect(),
            in_set: vec![false; count],
            after: Vec::new(),
        }
    }

    /// The same rule with time running backwards.
    pub(super) fn mirrored(&self) -> Self {
        let count = self.tasks.len();
        let mirror = |task: &Task| Task { start: task.end.minus(), end: task.start.minus(), ..*task };
        let before = (0..count * count).map(|pair| self.before[pair % count * count + pair / count]).collect();
        Disjunctive::new(self.tasks.iter().map(mirror).collect(), before)
    }

    fn fact(task: &Task, bounds: &impl Bounds) -> Fact {
        let (earliest_start, latest_end) = (bounds.least(task.start), bounds.most(task.end));
        Fact {
            present: bounds.holds(task.present),
            possible: !bounds.holds(task.present.opposite()),
            earliest_start,
            earliest_end: bounds.least(task.end).max(earliest_start + task.min),
            latest_start: bounds.most(task.start).min(latest_end - task.min),
            latest_end,
        }
    }

    /// Tails of the set that `in_set` marks, over the order of starts.
    fn build_tails(&mut self) {
        let count = self.by_start.len();
        self.after.clear();
        self.after.resize(count + 1, Tail { end: NEVER, minutes: 0 });
        for place in (0..count).rev() {
            let index = self.by_start[place];
            let mut tail = self.after[place + 1];
            if self.in_set[index] {
                let min = self.tasks[index].min;
                tail.end = tail.end.max(self.facts[index].earliest_start + min + tail.minutes);
                tail.minutes += min;
            }
            self.after[place] = tail;
        }
    }

    fn find_edges(&mut self, trail: &mut Trail, rule: u32) -> Result<(), Conflict> {
        self.in_set.fill(false);
        for place in 0..self.by_end.len() {
            let index = self.by_end[place];
            if !self.facts[index].present {
                continue;
            }
            self.in_set[index] = true;
            let until = self.facts[index].latest_end;
            let next = self.by_end[place + 1..].iter().find(|&&next| self.facts[next].present);
            if next.is_some_and(|&next| self.facts[next].latest_end == until) {
                continue;
            }
            self.build_tails();
            let all = self.after[0].end;
            if all > until {
                return Err(self.overload(trail, until));
            }
            let mut head = NEVER;
            for place in 0..self.by_start.len() {
                let (other, tail) = (self.by_start[place], self.after[place + 1]);
                let (fact, min) = (self.facts[other], self.tasks[other].min);
                if self.in_set[other] {
                    head = head.max(fact.earliest_start) + min;
                } else if fact.possible && all > fact.earliest_start {
                    let with = tail.end.max(head.max(fact.earliest_start) + min + tail.minutes);
                    if with > until {
                        self.put_after(trail, rule, other, all, [EDGE, EDGE_OUT])?;
                    }
                }
            }
        }
        Ok(())
    }

    fn overload(&self, trail: &mut Trail, until: Time) -> Conflict {
        let set = |index: &usize| self.facts[*index].present && self.facts[*index].latest_end <= until;
        let mut minutes = 0;
        let mut from = NEVER;
        for &index in self.by_start.iter().rev().filter(|index| set(index)) {
            minutes += self.tasks[index].min;
            from = self.facts[index].earliest_start;
            if from + minutes > until {
                break;
            }
        }
        trail.clash(|_, why| {
            for &index in self.by_start.iter().filter(|index| set(index) && self.facts[**index].earliest_start >= from)
            {
                let task = &self.tasks[index];
                why.extend([task.present, task.start.at_least(from), task.end.at_most(from + minutes - 1)]);
            }
        })
    }

    /// Task `index` starts no earlier than `minute`; it cannot be there if that is too late.
    fn put_after(
        &self,
        trail: &mut Trail,
        rule: u32,
        index: usize,
        minute: Time,
        remarks: [u32; 2],
    ) -> Result<(), Conflict> {
        let task = &self.tasks[index];
        if self.facts[index].present {
            trail.set(task.start.at_least(minute), Reason::Rule { rule, what: remarks[0] + index as u32 })
        } else if minute > self.facts[index].latest_start {
            trail.set(task.present.opposite(), Reason::Rule { rule, what: remarks[1] + index as u32 })
        } else {
            Ok(())
        }
    }

    fn comes_before(&self, bounds: &impl Bounds, facts: &[Fact], index: usize, other: usize) -> bool {
        let [fact, first] = [facts[index], facts[other]];
        index != other
            && first.present
            && (fact.earliest_end > first.latest_start || bounds.holds(self.before[index * self.tasks.len() + other]))
    }

    fn find_precedences(&self, trail: &mut Trail, rule: u32) -> Result<(), Conflict> {
        for index in (0..self.tasks.len()).filter(|&index| self.facts[index].possible) {
            let mut end = NEVER;
            for &other in &self.by_start {
                if self.comes_before(trail, &self.facts, index, other) {
                    end = end.max(self.facts[other].earliest_start) + self.tasks[other].min;
                }
            }
            if end > self.facts[index].earliest_start {
                self.put_after(trail, rule, index, end, [PRECEDENCE, PRECEDENCE_OUT])?;
            }
        }
        Ok(())
    }

    /// The last tasks of a set in the order of starts, as few as it takes to reach `minute`, and the minute they may start
    /// from. The set is given in the order of starts.
    fn enough(&self, set: &[usize], facts: &[Fact], minute: Time) -> (usize, Time) {
        let mut minutes = 0;
        for (place, &index) in set.iter().enumerate().rev() {
            minutes += self.tasks[index].min;
            if facts[index].earliest_start + minutes >= minute {
                return (place, minute - minutes);
            }
        }
        (0, NEVER)
    }

    fn explain_edge(&self, facts: &[Fact], order: &[usize], index: usize, minute: Time, why: &mut Vec<Lit>) {
        let task = &self.tasks[index];
        let mut untils: Vec<Time> = facts.iter().filter(|fact| fact.present).map(|fact| fact.latest_end).collect();
        untils.sort_unstable();
        untils.dedup();
        for until in untils {
            let is_in = |other: &usize| *other != index && facts[*other].present && facts[*other].latest_end <= until;
            let set: Vec<usize> = order.iter().copied().filter(is_in).collect();
            let (late, late_from) = self.enough(&set, facts, minute);
            if late_from == NEVER {
                continue;
            }
            // The last of the set, in the order of starts, that with the task do not fit.
            let mut minutes = task.min;
            for (place, &other) in set.iter().enumerate().rev() {
                minutes += self.tasks[other].min;
                let from = facts[other].earliest_start.min(facts[index].earliest_start);
                if from + minutes <= until {
                    continue;
                }
                why.push(task.start.at_least(from));
                let latest = from + minutes - 1;
                for (number, &other) in set.iter().enumerate().skip(place.min(late)) {
                    let other = &self.tasks[other];
                    why.extend([other.present, other.end.at_most(latest)]);
                    if number >= place {
                        why.push(other.start.at_least(from));
                    }
                    if number >= late {
                        why.push(other.start.at_least(late_from));
                    }
                }
                return;
            }
        }
        debug_assert!(false, "no set explains the edge");
    }

    fn explain_precedence(
        &self,
        past: &Past<'_>,
        facts: &[Fact],
        order: &[usize],
        index: usize,
        minute: Time,
        why: &mut Vec<Lit>,
    ) {
        let set: Vec<usize> =
            order.iter().copied().filter(|&other| self.comes_before(past, facts, index, other)).collect();
        let (place, from) = self.enough(&set, facts, minute);
        let mut overtaken = NEVER;
        for &other in &set[place..] {
            let task = &self.tasks[other];
            why.extend([task.present, task.start.at_least(from)]);
            let ordered = self.before[index * self.tasks.len() + other];
            if past.holds(ordered) {
                why.push(ordered);
            } else {
                overtaken = overtaken.max(facts[other].latest_start);
            }
        }
        if overtaken == NEVER {
            return;
        }
        // The task cannot end by the latest start of these: they come first.
        let task = &self.tasks[index];
        let late = |lit: Lit, instead: Lit| if past.holds(lit) { lit } else { instead };
        why.push(late(task.end.at_least(overtaken + 1), task.start.at_least(overtaken + 1 - task.min)));
        for &other in &set[place..] {
            if !past.holds(self.before[index * self.tasks.len() + other]) {
                let other = &self.tasks[other];
                why.push(late(other.start.at_most(overtaken), other.end.at_most(overtaken + other.min)));
            }
        }
    }
}

impl Propagator for Disjunctive {
    fn sides(&self) -> Vec<Side> {
        let orders = self.before.iter().map(|lit| lit.side);
        self.tasks.iter().flat_map(Task::sides).chain(orders).collect()
    }

    fn rank(&self) -> usize {
        1
    }

    fn propagate(&mut self, trail: &mut Trail, rule: u32) -> Result<(), Conflict> {
        self.facts.clear();
        self.facts.extend(self.tasks.iter().map(|task| Self::fact(task, trail)));
        let facts = &self.facts;
        self.by_start.sort_by_key(|&index| facts[index].earliest_start);
        self.by_end.sort_by_key(|&index| facts[index].latest_end);
        self.find_edges(trail, rule)?;
        self.find_precedences(trail, rule)
    }

    fn explain(&self, past: &Past<'_>, lit: Lit, what: u32, why: &mut Vec<Lit>) {
        let index = (what & TASK) as usize;
        let task = &self.tasks[index];
        let facts: Vec<Fact> = self.tasks.iter().map(|task| Self::fact(task, past)).collect();
        let mut order: Vec<usize> = (0..self.tasks.len()).collect();
        order.sort_by_key(|&index| facts[index].earliest_start);
        let minute = match what & !TASK {
            EDGE | PRECEDENCE => {
                why.push(task.present);
                lit.at_least + task.start.plus
            }
            _ => {
                let latest = facts[index].latest_start;
                let by_start = task.start.at_most(latest);
                why.push(if past.holds(by_start) { by_start } else { task.end.at_most(latest + task.min) });
                latest + 1
            }
        };
        match what & !TASK {
            EDGE | EDGE_OUT => self.explain_edge(&facts, &order, index, minute, why),
            _ => self.explain_precedence(past, &facts, &order, index, minute, why),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Whether tasks with these windows and minutes can follow each other in some order.
    fn possible(windows: &mut Vec<(Time, Time, Time)>, now: Time) -> bool {
        windows.is_empty()
            || (0..windows.len()).any(|index| {
                let task = windows.swap_remove(index);
                let end = now.max(task.0) + task.2;
                let fine = end <= task.1 && possible(windows, end);
                windows.push(task);
                let last = windows.len() - 1;
                windows.swap(index, last);
                fine
            })
    }

    #[test]
    fn facts_alone_imply_what_is_drawn_from_them() {
        let mut seed = 7_u32;
        let mut draw = |range: u32| {
            seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            (seed >> 16) as Time % range as Time
        };
        let mut found = 0;
        for _ in 0..3000 {
            let minutes: Vec<Time> = (0..4).map(|_| 1 + draw(5)).collect();
            let mut trail = Trail::new();
            let starts: Vec<_> = minutes.iter().map(|_| trail.variable(0, 40)).collect();
            let tasks: Vec<Task> = (starts.iter().zip(&minutes))
                .map(|(&start, &min)| Task { present: Lit::TRUE, start, end: start.plus(min), min, amount: 1 })
                .collect();
            let mut rule = Disjunctive::new(tasks, vec![Lit::TRUE.opposite(); 16]);
            trail.new_level();
            for &start in &starts {
                let lo = draw(8);
                trail.set(start.at_least(lo), Reason::Chosen).expect("free");
                trail.set(start.at_most(lo + 2 + draw(9)), Reason::Chosen).expect("free");
            }
            let given = trail.entries.len();
            let conflict = rule.propagate(&mut trail, 0);
            // What the facts say of each window, and the opposite of what was drawn, must not be possible together.
            let refuted = |facts: &[Lit]| {
                let mut windows: Vec<(Time, Time, Time)> = minutes.iter().map(|&min| (0, 1000, min)).collect();
                for fact in facts {
                    if let Some(index) = starts.iter().position(|start| start.side == fact.side) {
                        windows[index].0 = windows[index].0.max(fact.at_least);
                    }
                    if let Some(index) = starts.iter().position(|start| start.side == fact.side ^ 1) {
                        windows[index].1 = windows[index].1.min(minutes[index] - fact.at_least);
                    }
                }
                !possible(&mut windows, -100)
            };
            for entry in given..trail.entries.len() {
                let Reason::Rule { what, .. } = trail.entries[entry].reason else { panic!("by the rule") };
                let lit = Lit { side: trail.entries[entry].side, at_least: trail.entries[entry].new };
                let mut why = Vec::new();
                rule.explain(&Past { trail: &trail, entry }, lit, what, &mut why);
                assert!(why.iter().all(|&fact| trail.holds(fact)));
                why.push(lit.opposite());
                assert!(refuted(&why), "{why:?} with {minutes:?}");
                found += 1;
            }
            if let Err(Conflict::Facts(Reason::Note { start, len })) = conflict {
                assert!(refuted(trail.noted(start, len)));
                found += 1;
            }
        }
        assert!(found > 1000, "only {found} conclusions");
    }
}

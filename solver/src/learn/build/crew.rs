//! Who does which piece of work, and when touches that float are begun.
//!
//! Both are decided upon last: what the rows of cooks say settles nearly all, and a search that begins with names would look
//! at the same evening once for each way to hand out the work.

use std::collections::BTreeMap;

use super::Builder;
use super::orders::Orders;
use crate::instance::{When, Work};
use crate::learn::crew::WorkVars;
use crate::learn::cumulative::Task;
use crate::learn::literal::Lit;
use crate::learn::trail::Bounds;

impl Builder<'_, '_> {
    /// Variables for all pieces of work. Modes of a step with the same piece share them.
    pub(super) fn add_works(&mut self) {
        let instance = self.instance;
        let Some(crew) = &instance.crew else { return };
        for (index, step) in instance.steps.iter().enumerate() {
            let mut works: BTreeMap<&Work, Vec<usize>> = BTreeMap::new();
            for (number, mode) in step.modes.iter().enumerate() {
                for work in &mode.works {
                    works.entry(work).or_default().push(number);
                }
            }
            for (work, modes) in works {
                let present = self.one_of(index, &modes);
                let min = modes.iter().map(|&mode| step.modes[mode].min).min().unwrap_or(1);
                let task = match work.when {
                    When::Fixed(during) => self.spanning(index, during, work.hands, present, min),
                    When::Floats { first, last, minutes } => self.floating(index, [first, last, minutes], present),
                };
                let seats = self.seats(work, present, crew.classes.len());
                self.works.push(WorkVars { step: index, modes, work: work.clone(), task, seats });
            }
        }
    }

    /// A task begun from `first` to `last` minutes after its step, and done by its end.
    fn floating(&mut self, step: usize, [first, last, minutes]: [i32; 3], present: Lit) -> Task {
        let (start, end) = (self.steps[step].start, self.steps[step].end);
        let trail = &self.engine.trail;
        let lo = trail.least(start) + first;
        // Where the mode is impossible anyway, any range will do.
        let hi = (trail.most(start) + last).min(trail.most(end) - minutes).max(lo);
        let begin = self.engine.late_decision(lo, hi);
        let condition: &[Lit] = if self.engine.trail.holds(present) { &[] } else { &[present] };
        self.difference(start, begin, first, condition);
        self.difference(begin, start, -last, condition);
        self.difference(begin, end, minutes, condition);
        Task { present, start: begin, end: begin.plus(minutes), min: minutes, amount: 1 }
    }

    /// For each hand that a piece needs, who lends it: a literal for each class.
    fn seats(&mut self, work: &Work, present: Lit, classes: usize) -> Vec<Vec<(usize, Lit)>> {
        let hands = work.hands.max(0) as usize;
        if classes == 1 || work.classes.len() == 1 {
            // Counted as one task: no more hands are told apart than a class has.
            return vec![work.classes.iter().map(|&class| (class, present)).collect(); hands];
        }
        let mut seats: Vec<Vec<(usize, Lit)>> = Vec::with_capacity(hands);
        for _ in 0..hands {
            let mut seat: Vec<(usize, Lit)> = Vec::with_capacity(work.classes.len());
            for &class in &work.classes {
                let lit = self.engine.late_decision(0, 1).at_least(1);
                self.engine.clause(&[lit.opposite(), present]);
                for &(_, other) in &seat {
                    self.engine.clause(&[lit.opposite(), other.opposite()]);
                }
                // Of two hands for one piece the first comes from the earlier class.
                if let Some(before) = seats.last() {
                    let mut clause = vec![lit.opposite()];
                    clause.extend(before.iter().filter(|(other, _)| *other <= class).map(|&(_, lit)| lit));
                    self.engine.clause(&clause);
                }
                seat.push((class, lit));
            }
            let mut clause = vec![present.opposite()];
            clause.extend(seat.iter().map(|&(_, lit)| lit));
            self.engine.clause(&clause);
            seats.push(seat);
        }
        seats
    }

    /// No cook does two things at once, but for what is done in passing beside a whole piece.
    pub(super) fn add_crew(&mut self, orders: &mut Orders) {
        let instance = self.instance;
        let Some(crew) = instance.crew.as_ref().filter(|crew| crew.classes.len() > 1) else { return };
        for (index, class) in crew.classes.iter().enumerate() {
            for beside in [false, true] {
                let mut tasks: Vec<(Task, usize)> = Vec::new();
                let mut any = !beside;
                for vars in self.works.iter().filter(|vars| vars.work.counts(beside)) {
                    let own: Vec<Lit> = vars
                        .seats
                        .iter()
                        .flat_map(|seat| seat.iter().filter(|(class, _)| *class == index).map(|&(_, lit)| lit))
                        .collect();
                    any |= vars.work.passing && !own.is_empty();
                    if vars.work.classes.len() == 1 {
                        let task = Task { amount: own.len() as i64, ..vars.task };
                        tasks.extend((!own.is_empty()).then_some((task, vars.step)));
                    } else {
                        let task = |&present| (Task { present, amount: 1, ..vars.task }, vars.step);
                        tasks.extend(own.iter().map(task));
                    }
                }
                if any && !tasks.is_empty() {
                    self.add_resource(orders, tasks, &class.capacity);
                }
            }
        }
    }
}

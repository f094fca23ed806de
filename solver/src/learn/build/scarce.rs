//! What there is not enough of: hands, pools, burners, room, heat, doors that may be opened.

use std::collections::BTreeMap;

use super::Builder;
use super::orders::{Interval, Orders};
use super::paths::Paths;
use crate::instance::{During, Mode, Need, PlaceTable, Profile, Time, When};
use crate::learn::cumulative::{Cumulative, Task};
use crate::learn::disjunctive::Disjunctive;
use crate::learn::literal::{Expr, Lit};
use crate::learn::room::Room;
use crate::learn::trail::Bounds;

/// No more orders than this are made for pairs that merely compete for a resource.
const ENOUGH: usize = 4000;

impl Builder<'_, '_> {
    /// All rules about scarcity.
    pub(super) fn add_scarcity(&mut self) {
        self.add_works();
        let paths = Paths::new(self.engine.trail.sides(), &self.firm);
        let mut orders = Orders::new(paths);
        for table in &self.instance.places {
            self.add_separations(&mut orders, table);
            self.add_doors(&mut orders, table);
            self.add_room(table);
        }
        self.add_resources(&mut orders);
        self.add_crew(&mut orders);
    }

    /// Each occupant of a place as a task, with its index.
    pub(super) fn pans(&self, table: &PlaceTable) -> Vec<(Task, usize)> {
        let pans = table.occupants.iter().enumerate().map(|(index, occupant)| {
            let vars = &self.steps[occupant.step];
            let mode = &self.instance.steps[occupant.step].modes[occupant.mode];
            let present = vars.modes[occupant.mode];
            (Task { present, start: vars.start, end: vars.end, min: mode.min, amount: 1 }, index)
        });
        pans.collect()
    }

    fn whole(&self, step: usize) -> Interval {
        Interval { start: self.steps[step].start, end: self.steps[step].end }
    }

    fn add_separations(&mut self, orders: &mut Orders, table: &PlaceTable) {
        for (first, a) in table.occupants.iter().enumerate() {
            for (second, b) in table.occupants.iter().enumerate().skip(first + 1) {
                if a.step == b.step {
                    continue;
                }
                let Some(gaps) = table.separation(first, second) else { continue };
                let conditions = [self.steps[a.step].modes[a.mode], self.steps[b.step].modes[b.mode]];
                let pair = [self.whole(a.step), self.whole(b.step)];
                self.separate(orders, pair, conditions, [gaps.forth, gaps.back]);
            }
        }
    }

    /// While the door stays shut, no other step begins, ends or opens it.
    fn add_doors(&mut self, orders: &mut Orders, table: &PlaceTable) {
        let instance = self.instance;
        for (first, a) in table.occupants.iter().enumerate() {
            let shut = instance.steps[a.step].modes[a.mode].shut;
            if shut == 0 {
                continue;
            }
            let start = self.steps[a.step].start;
            let closed = Interval { start, end: start.plus(shut) };
            for (second, b) in table.occupants.iter().enumerate().filter(|(_, b)| b.step != a.step) {
                let mode = &instance.steps[b.step].modes[b.mode];
                let vars = &self.steps[b.step];
                let conditions = [self.steps[a.step].modes[a.mode], vars.modes[b.mode]];
                let mut moments: Vec<Expr> = Vec::new();
                // Steps kept apart cannot disturb each other, except by a touch past the end.
                let apart = table.separation(first, second).is_some();
                if !apart {
                    moments.extend([vars.start, vars.end]);
                }
                let touches = mode.openings.iter().filter(|&&offset| !apart || offset > mode.min);
                moments.extend(touches.map(|&offset| vars.start.plus(offset)));
                // A touch that floats lies inside its step.
                let floats =
                    self.works.iter().filter(|own| !apart && own.step == b.step && own.modes.contains(&b.mode));
                let floats = floats.filter(|own| matches!(own.work.when, When::Floats { .. }));
                moments.extend(floats.map(|own| own.task.start));
                for moment in moments {
                    self.separate(orders, [closed, Interval { start: moment, end: moment }], conditions, [0, 0]);
                }
            }
        }
    }

    fn add_room(&mut self, table: &PlaceTable) {
        let pans = self.pans(table);
        let mut steps: Vec<usize> = table.occupants.iter().map(|occupant| occupant.step).collect();
        steps.dedup();
        if steps.len() > 2 {
            let table = self.instance.places.iter().find(|other| std::ptr::eq(*other, table));
            if let Some(table) = table {
                self.engine.add(Box::new(Room { table, pans }));
            }
        }
    }

    fn add_resources(&mut self, orders: &mut Orders) {
        let instance = self.instance;
        let mut tasks: Vec<Vec<(Task, usize)>> = vec![Vec::new(); instance.resources.len()];
        for (index, step) in instance.steps.iter().enumerate() {
            // Modes with the same need share one task.
            let mut needs: BTreeMap<Need, Vec<usize>> = BTreeMap::new();
            for (number, mode) in step.modes.iter().enumerate() {
                for need in needs_of(mode) {
                    needs.entry(need).or_default().push(number);
                }
            }
            for (need, modes) in needs {
                let present = self.one_of(index, &modes);
                if need.amount > instance.resources[need.resource].capacity.most() {
                    self.engine.clause(&[present.opposite()]);
                    continue;
                }
                let min = modes.iter().map(|&mode| step.modes[mode].min).min().unwrap_or(1);
                let task = self.spanning(index, need.during, need.amount, present, min);
                tasks[need.resource].push((task, index));
            }
        }
        for own in self.works.iter().filter(|own| matches!(own.work.when, When::Floats { .. })) {
            for &row in &own.work.rows {
                tasks[row].push((own.task, own.step));
            }
        }
        for (tasks, resource) in tasks.into_iter().zip(&instance.resources) {
            self.add_resource(orders, tasks, &resource.capacity);
        }
    }

    /// Tasks with their steps, of one resource.
    pub(super) fn add_resource(&mut self, orders: &mut Orders, tasks: Vec<(Task, usize)>, capacity: &Profile) {
        self.add_pairs(orders, &tasks, capacity);
        let tasks: Vec<Task> = tasks.into_iter().map(|(task, _)| task).collect();
        if !tasks.is_empty() {
            self.add_disjunctive(orders, &tasks, capacity);
            self.add_cumulative(tasks, capacity);
        }
    }

    /// A task over some minutes of a step.
    pub(super) fn spanning(&self, step: usize, during: During, amount: i64, present: Lit, min: Time) -> Task {
        let vars = &self.steps[step];
        let (start, end, min) = match during {
            During::Whole => (vars.start, vars.end, min),
            During::FromStart { offset, minutes } => {
                (vars.start.plus(offset), vars.start.plus(offset + minutes), minutes)
            }
            During::BeforeEnd { minutes } => (vars.end.plus(-minutes), vars.end, minutes),
        };
        Task { present, start, end, min, amount }
    }

    fn add_pairs(&mut self, orders: &mut Orders, tasks: &[(Task, usize)], capacity: &Profile) {
        let most = capacity.most();
        for (index, (a, _)) in tasks.iter().enumerate() {
            for (b, _) in &tasks[index + 1..] {
                // Two ways of one step are never both there; its own pieces are left to the timetable.
                if a.amount + b.amount > most && a.start.side != b.start.side && orders.len() < ENOUGH {
                    let pair = [a, b].map(|task| Interval { start: task.start, end: task.end });
                    self.separate(orders, pair, [a.present, b.present], [0, 0]);
                }
            }
        }
    }

    /// Tasks that need more than half of what there ever is exclude each other.
    fn add_disjunctive(&mut self, orders: &Orders, tasks: &[Task], capacity: &Profile) {
        let most = capacity.most();
        let mut tasks: Vec<Task> = tasks.iter().copied().filter(|task| 2 * task.amount > most).collect();
        if tasks.len() < 3 {
            return;
        }
        // Minutes in which there is not even half count as tasks, too.
        for (from, to, amount) in self.missing(&tasks, capacity) {
            if 2 * amount >= most {
                let (start, end) = (Expr::constant(from), Expr::constant(to));
                tasks.push(Task { present: Lit::TRUE, start, end, min: to - from, amount });
            }
        }
        let interval = |task: &Task| Interval { start: task.start, end: task.end };
        let mut before = Vec::with_capacity(tasks.len() * tasks.len());
        for task in &tasks {
            let known = tasks.iter().map(|other| orders.known(interval(other), interval(task)));
            before.extend(known.map(|lit| lit.unwrap_or(Lit::TRUE.opposite())));
        }
        let forwards = Disjunctive::new(tasks, before);
        let backwards = forwards.mirrored();
        self.engine.add(Box::new(forwards));
        self.engine.add(Box::new(backwards));
    }

    fn add_cumulative(&mut self, tasks: Vec<Task>, capacity: &Profile) {
        let missing = self.missing(&tasks, capacity);
        self.engine.add(Box::new(Cumulative::new(tasks, missing, capacity.most())));
    }

    /// What is missing from the full capacity while these tasks may run.
    fn missing(&self, tasks: &[Task], capacity: &Profile) -> Vec<(Time, Time, i64)> {
        let trail = &self.engine.trail;
        let first = tasks.iter().map(|task| trail.least(task.start)).min().unwrap_or(0);
        let last = tasks.iter().map(|task| trail.most(task.end)).max().unwrap_or(0);
        let most = capacity.most();
        let mut missing = Vec::new();
        let pieces = capacity.pieces();
        for (index, &(from, amount)) in pieces.iter().enumerate() {
            let to = pieces.get(index + 1).map_or(Time::MAX, |next| next.0);
            let (from, to) = (from.max(first), to.min(last));
            if from < to && amount < most {
                missing.push((from, to, most - amount));
            }
        }
        missing
    }
}

/// The needs of a mode, each piece once.
fn needs_of(mode: &Mode) -> Vec<Need> {
    let mut needs = mode.needs.clone();
    needs.sort_unstable();
    // The same piece twice in one mode takes the sum of both.
    needs.dedup_by(|next, kept| {
        let same = (next.resource, next.during) == (kept.resource, kept.during);
        if same {
            kept.amount += next.amount;
        }
        same
    });
    needs
}

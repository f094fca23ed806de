//! The program of a feast, or of a few dishes inside a plan: modes as binaries, minutes as continuous variables.
//!
//! Scarcity comes in only where an answer breaks it: a set of pieces that may not all run at once gets a row that asks for
//! two of them to be in order, or for one to be done another way. With all binaries fixed what is left is the dual of a
//! flow, so its corners are whole minutes.

use std::collections::BTreeMap;

use super::milp::Milp;
use crate::assignment::{Assignment, Choice};
use crate::instance::{Instance, Rate, Span, Time, Windows};

/// A minute: a variable, or none, plus a constant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Moment {
    column: Option<usize>,
    offset: Time,
    lo: Time,
    hi: Time,
}

impl Moment {
    pub(super) fn fixed(minute: Time) -> Self {
        Moment { column: None, offset: minute, lo: minute, hi: minute }
    }

    pub(super) fn plus(self, minutes: Time) -> Self {
        Moment {
            column: self.column,
            offset: self.offset + minutes,
            lo: self.lo.saturating_add(minutes),
            hi: self.hi.saturating_add(minutes),
        }
    }

    fn value(self, values: &[f64]) -> Time {
        self.column.map_or(0, |column| values[column].round() as Time) + self.offset
    }
}

/// Whether a mode is chosen: a binary, or known.
#[derive(Clone, Copy, Debug)]
enum Chosen {
    Known(bool),
    Column(usize),
}

/// Something that takes time: from one moment to another.
pub(super) type Piece = (Moment, Moment);

/// Pieces of which no two are in order, but which may not all run at once.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Conflict {
    pub(super) pieces: Vec<Piece>,
    /// It holds while each of these steps is done in one of these modes.
    pub(super) modes: Vec<(usize, Vec<usize>)>,
    /// The least minutes from the end of one piece to the start of another.
    pub(super) gaps: Vec<Vec<Time>>,
}

/// What is minimised.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Goal {
    Lateness,
    /// Among plans no later than this.
    Waiting {
        lateness: i64,
    },
}

/// The program and what its columns mean.
pub(super) struct Timing<'i> {
    instance: &'i Instance<'i>,
    pub(super) milp: Milp,
    /// What the objective counts beside its columns.
    pub(super) constant: i64,
    start: Vec<Moment>,
    end: Vec<Moment>,
    chosen: Vec<Vec<Chosen>>,
    served: Vec<Moment>,
    orders: BTreeMap<(Moment, Moment), Option<usize>>,
}

impl<'i> Timing<'i> {
    /// The program of all steps that `fixed` does not fix; servings too, if it does not fix them.
    pub(super) fn new(instance: &'i Instance<'i>, windows: &Windows, fixed: &[Option<Choice>], goal: Goal) -> Self {
        let mut timing = Timing {
            instance,
            milp: Milp::default(),
            constant: 0,
            start: Vec::new(),
            end: Vec::new(),
            chosen: Vec::new(),
            served: Vec::new(),
            orders: BTreeMap::new(),
        };
        timing.served = windows.serve.iter().map(|&span| timing.moment(span)).collect();
        for (step, &choice) in fixed.iter().enumerate() {
            timing.add_step(step, windows.start[step], windows.end[step], choice);
        }
        timing.relate();
        match goal {
            Goal::Lateness => {
                for (course, source) in instance.courses.iter().enumerate() {
                    timing.charge(timing.served[course].plus(-source.serve), source.weight);
                }
            }
            Goal::Waiting { lateness } => {
                timing.hold_lateness(lateness);
                timing.charge_waiting();
            }
        }
        timing
    }

    fn moment(&mut self, span: Span) -> Moment {
        let column = (span.lo < span.hi).then(|| self.milp.column(0, i64::from(span.hi - span.lo), 0, false));
        Moment { column, offset: span.lo, lo: span.lo, hi: span.hi.max(span.lo) }
    }

    fn add_step(&mut self, step: usize, starts: Span, ends: Span, fixed: Option<Choice>) {
        let modes = &self.instance.steps[step].modes;
        if let Some(choice) = fixed {
            self.start.push(Moment::fixed(choice.start));
            self.end.push(Moment::fixed(choice.end));
            self.chosen.push((0..modes.len()).map(|mode| Chosen::Known(mode == choice.mode)).collect());
            return;
        }
        let start = self.moment(starts);
        let rigid = modes.iter().all(|mode| mode.min == modes[0].min && mode.max == mode.min);
        let end = if rigid { start.plus(modes[0].min) } else { self.moment(ends) };
        self.start.push(start);
        self.end.push(end);
        let chosen: Vec<Chosen> = match modes.len() {
            1 => vec![Chosen::Known(true)],
            count => (0..count).map(|_| Chosen::Column(self.milp.column(0, 1, 0, true))).collect(),
        };
        self.chosen.push(chosen);
        let columns: Vec<usize> = self.columns(step).map(|(_, column)| column).collect();
        if !columns.is_empty() {
            self.milp.equal(&columns.iter().map(|&column| (column, 1)).collect::<Vec<_>>(), 1);
        }
        // A rigid end moves with the start, and must stay inside its own window.
        self.gap(Moment::fixed(ends.lo), end, 0);
        self.gap(end, Moment::fixed(ends.hi), 0);
        if !rigid {
            self.mode_gap(start, end, step, 1, |mode| mode.min);
            self.mode_gap(end, start, step, -1, |mode| mode.max);
        }
        self.mode_gap(Moment::fixed(0), start, step, 1, |mode| mode.ready);
    }

    fn columns(&self, step: usize) -> impl Iterator<Item = (usize, usize)> + '_ {
        self.chosen[step].iter().enumerate().filter_map(|(mode, chosen)| match chosen {
            Chosen::Column(column) => Some((mode, *column)),
            Chosen::Known(_) => None,
        })
    }

    /// `to - from >= sign * (what the chosen mode says)`.
    fn mode_gap(
        &mut self,
        from: Moment,
        to: Moment,
        step: usize,
        sign: i64,
        minutes: impl Fn(&crate::instance::Mode) -> Time,
    ) {
        let modes = &self.instance.steps[step].modes;
        let mut terms = difference(from, to);
        let mut rhs = i64::from(from.offset - to.offset);
        for (mode, chosen) in self.chosen[step].iter().enumerate() {
            match chosen {
                Chosen::Known(true) => rhs += sign * i64::from(minutes(&modes[mode])),
                Chosen::Known(false) => {}
                Chosen::Column(column) => terms.push((*column, -sign * i64::from(minutes(&modes[mode])))),
            }
        }
        self.milp.at_least(&terms, rhs);
    }

    /// `to - from >= minutes`, unless the windows say so already.
    fn gap(&mut self, from: Moment, to: Moment, minutes: Time) {
        if to.lo < from.hi.saturating_add(minutes) {
            self.milp.at_least(&difference(from, to), i64::from(minutes + from.offset - to.offset));
        }
    }

    fn relate(&mut self) {
        let instance = self.instance;
        for link in &instance.links {
            let (from, to) = (self.end[link.from], self.start[link.to]);
            self.gap(from, to, link.min);
            if link.max != Time::MAX {
                self.gap(to, from, -link.max);
            }
            if link.stay {
                self.stay(link.from, link.to);
            }
        }
        for (course, source) in instance.courses.iter().enumerate() {
            let served = self.served[course];
            for &sink in &source.sinks {
                self.gap(self.end[sink], served, 0);
                self.gap(served, self.end[sink], -source.together);
            }
            if let Some((earlier, min, max)) = source.after {
                self.gap(self.served[earlier], served, min);
                if max != Time::MAX {
                    self.gap(served, self.served[earlier], -max);
                }
            }
        }
    }

    /// Both steps in the same place.
    fn stay(&mut self, from: usize, to: usize) {
        let places = |step: usize| self.instance.steps[step].modes.iter().map(|mode| mode.place);
        let all: std::collections::BTreeSet<Option<usize>> = places(from).chain(places(to)).collect();
        for place in all {
            let mut terms = Vec::new();
            let mut rhs = 0;
            for (step, sign) in [(from, 1), (to, -1)] {
                for (mode, chosen) in self.chosen[step].iter().enumerate() {
                    if self.instance.steps[step].modes[mode].place == place {
                        match chosen {
                            Chosen::Known(known) => rhs -= sign * i64::from(*known),
                            Chosen::Column(column) => terms.push((*column, sign)),
                        }
                    }
                }
            }
            self.milp.equal(&terms, rhs);
        }
    }

    fn hold_lateness(&mut self, lateness: i64) {
        let mut terms = Vec::new();
        let mut rhs = lateness;
        for (course, source) in self.instance.courses.iter().enumerate() {
            rhs -= source.weight * i64::from(self.served[course].offset - source.serve);
            terms.extend(self.served[course].column.map(|column| (column, source.weight)));
        }
        self.milp.at_most(&terms, rhs);
    }

    fn charge(&mut self, moment: Moment, cost: i64) {
        self.constant += cost * i64::from(moment.offset);
        if let Some(column) = moment.column {
            self.milp.charge(column, cost);
        }
    }

    /// The cost of `to - from - base` minutes of waiting.
    fn charge_gap(&mut self, from: Moment, to: Moment, base: Time, rate: Rate) {
        self.charge(to, rate.rate);
        self.charge(from, -rate.rate);
        self.constant -= rate.rate * i64::from(base);
        let most = to.hi.saturating_sub(from.lo).saturating_sub(base);
        if rate.rate_after > rate.rate && most > rate.soft {
            // What lies past the bend.
            let past = self.milp.column(0, i64::from(most - rate.soft), rate.rate_after - rate.rate, false);
            let mut terms = difference(to, from);
            terms.push((past, 1));
            self.milp.at_least(&terms, i64::from(to.offset - from.offset - base - rate.soft));
        }
    }

    fn charge_waiting(&mut self) {
        let instance = self.instance;
        for link in &instance.links {
            self.charge_gap(self.end[link.from], self.start[link.to], link.min, link.wait);
        }
        for (index, step) in instance.steps.iter().enumerate() {
            self.charge_modes(index);
            if let Some((course, rate)) = step.sink {
                self.charge_gap(self.end[index], self.served[course], 0, rate);
            }
        }
    }

    /// Costs of the modes, and of what lies beyond their least minutes.
    fn charge_modes(&mut self, step: usize) {
        let modes = &self.instance.steps[step].modes;
        let (start, end) = (self.start[step], self.end[step]);
        let mut beyond: Vec<(usize, i64)> = Vec::new();
        for (number, mode) in modes.iter().enumerate() {
            match self.chosen[step][number] {
                Chosen::Known(false) => {}
                Chosen::Known(true) => {
                    self.constant += mode.cost;
                    self.charge_gap(start, end, mode.min, mode.wait);
                }
                Chosen::Column(column) => {
                    self.milp.charge(column, mode.cost);
                    let most = i64::from(mode.max - mode.min);
                    if most > 0 {
                        let wait = self.milp.column(0, most, mode.wait.rate, false);
                        self.milp.at_least(&[(column, most), (wait, -1)], 0);
                        beyond.push((wait, 1));
                        if mode.wait.rate_after > mode.wait.rate && i64::from(mode.wait.soft) < most {
                            let soft = i64::from(mode.wait.soft);
                            let rise = mode.wait.rate_after - mode.wait.rate;
                            let past = self.milp.column(0, most - soft, rise, false);
                            self.milp.at_least(&[(past, 1), (wait, -1), (column, soft)], 0);
                        }
                    }
                    beyond.push((column, i64::from(mode.min)));
                }
            }
        }
        if !beyond.is_empty() {
            // The length is the least of the chosen mode and what lies beyond.
            beyond.extend(difference(end, start));
            self.milp.equal(&beyond, i64::from(end.offset - start.offset));
        }
    }

    pub(super) fn piece(&self, step: usize) -> Piece {
        (self.start[step], self.end[step])
    }

    /// Adds that these pieces may not all run at once. False if there is no way round it.
    pub(super) fn forbid(&mut self, conflict: &Conflict) -> bool {
        let Conflict { pieces, modes, gaps } = conflict;
        let mut terms = Vec::new();
        let mut rhs = 1 - modes.len() as i64;
        for (step, modes) in modes {
            // Only one mode is chosen: if any of these is, the step counts as being in the way.
            let known = modes.iter().any(|&mode| matches!(self.chosen[*step][mode], Chosen::Known(true)));
            let columns: Vec<usize> =
                self.columns(*step).filter(|(mode, _)| modes.contains(mode)).map(|(_, column)| column).collect();
            if known || columns.len() == self.chosen[*step].len() {
                rhs += 1;
            } else if columns.is_empty() {
                return true;
            } else {
                terms.extend(columns.into_iter().map(|column| (column, -1)));
            }
        }
        for (a, first) in pieces.iter().enumerate() {
            for (b, second) in pieces.iter().enumerate() {
                if a != b && first != second {
                    terms.extend(self.order(first.1.plus(gaps[a][b]), second.0).map(|column| (column, 1)));
                }
            }
        }
        let open = !terms.is_empty();
        self.milp.at_least(&terms, rhs);
        open
    }

    /// The binary that makes sure of `from <= to`; none if it cannot be.
    fn order(&mut self, from: Moment, to: Moment) -> Option<usize> {
        if let Some(&known) = self.orders.get(&(from, to)) {
            return known;
        }
        let column = (from.lo <= to.hi).then(|| {
            let column = self.milp.column(0, 1, 0, true);
            let slack = i64::from(from.hi - to.lo).max(0);
            // to - from >= -slack * (1 - order)
            let mut terms = difference(from, to);
            terms.push((column, -slack));
            self.milp.at_least(&terms, i64::from(from.offset - to.offset) - slack);
            column
        });
        self.orders.insert((from, to), column);
        column
    }

    /// The choices that values stand for, in whole minutes.
    pub(super) fn read(&self, values: &[f64]) -> Assignment {
        let steps = (0..self.start.len())
            .map(|step| {
                let picked = self.chosen[step].iter().position(|chosen| match chosen {
                    Chosen::Known(known) => *known,
                    Chosen::Column(column) => values[*column] > 0.5,
                });
                Choice {
                    mode: picked.unwrap_or(0),
                    start: self.start[step].value(values),
                    end: self.end[step].value(values),
                }
            })
            .collect();
        Assignment { steps, served: self.served.iter().map(|served| served.value(values)).collect() }
    }
}

/// The terms of `to - from`.
fn difference(from: Moment, to: Moment) -> Vec<(usize, i64)> {
    let mut terms = Vec::new();
    terms.extend(to.column.map(|column| (column, 1)));
    terms.extend(from.column.map(|column| (column, -1)));
    terms
}

//! The linear program of a plan's minutes, with everything else as it is.
//!
//! All rows compare two minutes but the one that shares out how much longer ovens may be hot, so that its corners are whole
//! minutes or next to them: what comes of it is rounded, and judged by the checker.

use std::collections::BTreeMap;

use rangewright_models::check::cost;
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Minute, Place, Wait};
use rangewright_models::schedule::Schedule;

use super::doubt::doubts;
use super::touches::{self, Touched};
use super::windows::spans;
use crate::instance::Instance;
use crate::odds::Ranges;
use crate::order::{Arc, Event, Order, end, start};
use crate::program::milp::{Answer, Milp};

/// What a minute of room is worth in the first, second and last third of the doubt it is for: as the chances of needing it
/// by a triangular distribution whose peak is at no delay, `(1 - 1/6)^2`, `(1 - 3/6)^2` and `(1 - 5/6)^2`. Moving a step by a
/// minute costs 1, so that nothing moves for nothing.
const WORTH: [i64; 3] = [50, 18, 2];

/// What a minute more of a hot oven costs against room (our assumption: as much as little room is worth).
const HEAT: i64 = 10;

/// A minute as a variable and what is added to it.
#[derive(Clone, Copy)]
pub(super) struct Moment {
    pub(super) column: usize,
    pub(super) base: Minute,
}

impl Moment {
    pub(super) fn plus(self, minutes: Minute) -> Moment {
        Moment { base: self.base + minutes, ..self }
    }
}

/// The program without its prices.
pub(super) struct Room<'o, 'p> {
    pub(super) order: &'o Order<'p>,
    pub(super) milp: Milp,
    pub(super) moments: Vec<Moment>,
    touches: Vec<Touched>,
    /// How many minutes the ovens may be hot for longer, all together, and the columns of what each spell takes of them.
    longer: (Minute, Vec<usize>),
    /// What waits, between which events, and the column of its minutes past the soft ones.
    waits: Vec<(Event, Event, Wait, Option<usize>)>,
}

impl<'o, 'p> Room<'o, 'p> {
    /// The program of a plan whose ovens may be hot for so many minutes longer.
    pub(super) fn new(
        order: &'o Order<'p>,
        day: &Schedule,
        instance: &Instance<'_>,
        ranges: &Ranges,
        longer: Minute,
    ) -> Self {
        let mut room = Room {
            order,
            milp: Milp::default(),
            moments: Vec::new(),
            touches: Vec::new(),
            longer: (longer, Vec::new()),
            waits: Vec::new(),
        };
        let spans = spans(order, instance);
        room.moments(&spans);
        for arc in order.arcs.iter().chain(&order.circles) {
            room.apart(arc.from, arc.to, arc.least);
        }
        room.touches = touches::all(&mut room, day, &spans);
        room.no_longer();
        room.spells();
        room.waiting();
        room.worth(&doubts(order, ranges));
        room
    }

    /// A column for each event; one for both ends of a step that cannot give.
    fn moments(&mut self, spans: &[[Minute; 2]]) {
        for (event, &[lo, hi]) in spans.iter().enumerate() {
            let planned = self.order.planned[event];
            let rigid = self.order.step_of(event).filter(|_| event % 2 == 1).map(|step| &self.order.runs[step].mode);
            if let Some(mode) = rigid.filter(|mode| mode.min == mode.max) {
                let begun = self.moments[event - 1];
                self.moments.push(Moment { column: begun.column, base: begun.base + mode.min });
                continue;
            }
            let moment = self.moment(lo, hi, planned);
            self.moments.push(moment);
        }
    }

    /// A minute of its own, planned at one of them. Moving it costs something.
    pub(super) fn moment(&mut self, lo: Minute, hi: Minute, planned: Minute) -> Moment {
        let column = self.milp.column(0, hi - lo, 0, false);
        let most = (hi - planned).max(planned - lo);
        if most > 0 {
            // By how much it moves, either way.
            let moved = self.milp.column(0, most, 1, false);
            self.milp.at_least(&[(moved, 1), (column, 1)], planned - lo);
            self.milp.at_least(&[(moved, 1), (column, -1)], lo - planned);
        }
        Moment { column, base: lo }
    }

    /// One event comes at least so many minutes after another.
    fn apart(&mut self, from: Event, to: Event, least: Minute) {
        self.after(self.moments[from], self.moments[to], least);
    }

    /// `to` comes at least so many minutes after `from`.
    pub(super) fn after(&mut self, from: Moment, to: Moment, least: Minute) {
        if from.column != to.column {
            self.milp.at_least(&[(to.column, 1), (from.column, -1)], least + from.base - to.base);
        }
    }

    /// What may be no longer than so many minutes: steps and links.
    fn no_longer(&mut self) {
        for (step, run) in self.order.runs.iter().enumerate() {
            self.apart(end(step), start(step), -run.mode.max);
        }
        for link in &self.order.problem.links {
            let ends = self.order.index(&link.from).zip(self.order.index(&link.to));
            if let (Some((from, to)), Some(max)) = (ends, link.max) {
                self.apart(start(to), end(from), -max);
            }
        }
    }

    /// Each oven keeps the spells it has: what begins one still does, and none lasts longer than is allowed.
    fn spells(&mut self) {
        for place in &self.order.problem.places {
            let Place::Cavity(cavity) = place else { continue };
            let mut inside: Vec<usize> = self.order.guests_of(place);
            inside.sort_by_key(|&step| (self.order.planned[start(step)], step));
            let mut spell: Vec<usize> = Vec::new();
            let mut until = Minute::MIN;
            for step in inside {
                let (begin, finish) = (self.order.planned[start(step)], self.order.planned[end(step)]);
                if begin.saturating_sub(until) > cavity.cool_off {
                    self.one_spell(&spell, until);
                    spell.clear();
                }
                spell.push(step);
                until = until.max(finish);
            }
            self.one_spell(&spell, until);
        }
        let (most, columns) = &self.longer;
        if !columns.is_empty() {
            self.milp.at_most(&columns.iter().map(|&column| (column, 1)).collect::<Vec<_>>(), *most);
        }
    }

    fn one_spell(&mut self, spell: &[usize], until: Minute) {
        let Some(&first) = spell.first() else { return };
        let lasts = until - self.order.planned[start(first)];
        let longer = (self.longer.0 > 0).then(|| self.milp.column(0, self.longer.0, HEAT, false));
        for &step in spell {
            if step != first {
                self.apart(start(first), start(step), 0);
            }
            let (begin, finish) = (self.moments[start(first)], self.moments[end(step)]);
            if let Some(longer) = longer.filter(|_| begin.column != finish.column) {
                let terms = [(begin.column, 1), (finish.column, -1), (longer, 1)];
                self.milp.at_least(&terms, finish.base - begin.base - lasts);
            } else {
                self.apart(end(step), start(first), -lasts);
            }
        }
        self.longer.1.extend(longer);
    }

    /// What waits; what is past its soft minutes has a column of its own.
    fn waiting(&mut self) {
        let order = self.order;
        let mut waits = Vec::new();
        for (step, run) in order.runs.iter().enumerate().filter(|(_, run)| run.mode.max > run.mode.min) {
            waits.push((start(step), end(step), run.mode.min, run.mode.wait.unwrap_or(run.step.wait)));
        }
        for link in &order.problem.links {
            if let Some((from, to)) = order.index(&link.from).zip(order.index(&link.to)) {
                waits.push((end(from), start(to), link.min, link.wait));
            }
        }
        for (number, course) in order.problem.courses.iter().enumerate() {
            for sink in &course.sinks {
                let Some(step) = order.index(&sink.step) else { continue };
                waits.push((end(step), order.serving(number), 0, sink.wait));
                self.apart(order.serving(number), end(step), -course.together);
            }
        }
        for (from, to, free, wait) in waits {
            let past = wait.soft.filter(|_| wait.rate_after > wait.rate).map(|soft| {
                let (a, b) = (self.moments[from], self.moments[to]);
                let past = self.milp.column(0, 100_000, 0, false);
                let rhs = b.base - a.base - free - soft;
                self.milp.at_least(&[(past, 1), (a.column, 1), (b.column, -1)], rhs);
                past
            });
            self.waits.push((from, to, wait, past));
        }
    }

    /// Room up to the doubt before it: no more than to anything that comes after.
    fn worth(&mut self, doubts: &[f64]) {
        for (event, &doubt) in doubts.iter().enumerate() {
            let third = (doubt / 3.0).round() as i64;
            let after = self.order.arcs.iter().filter(|arc| arc.from == event && self.order.most_room(arc) > 0);
            let after: Vec<Arc> = after.copied().collect();
            if third == 0 || after.is_empty() {
                continue;
            }
            let parts = WORTH.map(|worth| self.milp.column(0, third, -worth, false));
            for arc in after {
                let (a, b) = (self.moments[event], self.moments[arc.to]);
                let mut terms = vec![(b.column, 1), (a.column, -1)];
                terms.extend(parts.map(|part| (part, -1)));
                self.milp.at_least(&terms, arc.least + a.base - b.base);
            }
        }
    }

    /// The plan that is best if waiting costs so much against room, with at least so much room after some events.
    pub(super) fn plan(&self, weight: i64, margins: &BTreeMap<Event, Minute>, original: &Plan) -> Option<Plan> {
        let mut milp = self.milp.clone();
        for (&event, &minutes) in margins {
            for arc in self.order.arcs.iter().filter(|arc| arc.from == event && self.order.most_room(arc) > 0) {
                let (a, b) = (self.moments[event], self.moments[arc.to]);
                if a.column != b.column {
                    milp.at_least(&[(b.column, 1), (a.column, -1)], arc.least + minutes + a.base - b.base);
                }
            }
        }
        for &(from, to, wait, past) in &self.waits {
            milp.charge(self.moments[to].column, weight * wait.rate);
            milp.charge(self.moments[from].column, -weight * wait.rate);
            if let Some(past) = past {
                milp.charge(past, weight * (wait.rate_after - wait.rate));
            }
        }
        let Answer::Found { values, .. } = milp.solve(1) else { return None };
        let when = |moment: Moment| moment.base + values[moment.column].round() as Minute;
        let at = |event: Event| when(self.moments[event]);
        let problem = self.order.problem;
        let mut plan = original.clone();
        for (step, run) in self.order.runs.iter().enumerate() {
            let touches = run.planned.touches.clone();
            let moved = PlannedStep { touches, ..PlannedStep::new(run.planned.mode, at(start(step)), at(end(step))) };
            plan.steps.insert(run.step.id.clone(), moved);
        }
        for touched in self.touches.iter().filter(|touched| touched.floats) {
            let run = &self.order.runs[touched.step];
            let Some(moved) = plan.steps.get_mut(&run.step.id) else { continue };
            if moved.touches.is_empty() {
                moved.touches = run.mode.touches.iter().map(|touch| touch.at).collect();
            }
            if let Some(offset) = moved.touches.get_mut(touched.index) {
                *offset = when(touched.at) - moved.start;
            }
        }
        for (number, course) in problem.courses.iter().enumerate() {
            plan.served.insert(course.id.clone(), at(self.order.serving(number)));
        }
        [plan.lateness, plan.waiting, plan.hot] = cost(problem, &plan).ok()?.goals();
        Some(plan)
    }
}

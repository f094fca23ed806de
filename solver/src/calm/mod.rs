//! A plan that people can keep to: room after each step for what takes longer than expected.
//!
//! Ways, places, cooks and the order of everything stay as planned; only minutes move. They are a linear program: its rows
//! are what waits for what (`Order`), the longest a link or a hold may be, when food and cooks are there, and that no oven
//! is hot for longer. Courses are served when they were. Its objective is room after each step, worth the more the more is
//! in doubt before it, against waiting. All rows compare two minutes, so its corners are whole minutes; the checker judges
//! what comes of it all the same.
//!
//! That buffers belong where doubt has gathered is the idea of starting time criticality in robust project scheduling
//! (Van de Vonder, Demeulemeester and Herroelen, European Journal of Operational Research 189, 2008; named from memory).

use rangewright_models::check::{check, cost};
use rangewright_models::plan::{Plan, PlannedStep, Status};
use rangewright_models::problem::{Minute, Place, Problem, Wait};
use rangewright_models::schedule::{Crew, schedule_with};
use serde::{Deserialize, Serialize};

use crate::Error;
use crate::instance::Instance;
use crate::odds::Ranges;
use crate::order::{Arc, Event, Order, Tie, Touches, end, start};
use crate::program::milp::{Answer, Milp};

/// No step is given more room than this (our assumption).
const MOST_ROOM: f64 = 30.0;

/// What a minute of room is worth in the first, second and last third of the doubt it is for: as the chances of needing it
/// by a triangular distribution whose peak is at no delay, `(1 - 1/6)^2`, `(1 - 3/6)^2` and `(1 - 5/6)^2`. Moving a step by a
/// minute costs 1, so that nothing moves for nothing.
const WORTH: [i64; 3] = [50, 18, 2];

/// What waiting costs against room, dear first: the first leaves it as it is.
const WEIGHTS: [i64; 7] = [1000, 100, 40, 20, 10, 5, 2];

/// A plan with room in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Calmed {
    /// The plan. Its bounds are those of the plan it was made from, and it is only said to be best if it still is.
    pub plan: Plan,
    /// By how much its waiting costs more than before.
    pub waiting: i64,
}

/// The same plan with its minutes moved so that there is room for what takes longer, for at most `price` percent more waiting.
///
/// No course is served at another minute and no oven is hot for longer. With a price of 0 nothing waits longer either. A plan
/// that could not be improved comes back as it is. `ranges` say what is in doubt: see [`ranges`](crate::odds::ranges).
///
/// # Errors
/// [`Error::Limit`] if `price` is not within 0 to 100; [`Error::Start`] names every rule that the plan breaks.
///
/// ```
/// # use rangewright::models::{plan::Plan, problem::Problem, schedule::Crew};
/// use rangewright::{calm::calm, odds::ranges};
/// // Peeling ends as the frying begins, though nothing is lost by peeling earlier.
/// let problem: Problem = serde_json::from_str(r#"{
///     "name": "chips", "opening": 0, "shifts": [{"start": 0, "end": 90, "hands": 1}], "pools": {}, "places": [],
///     "dishes": [{"id": "chips", "name": "Chips"}],
///     "courses": [{"id": "tea", "serve": 60, "weight": 1, "max_slip": 10, "together": 10, "after": null,
///         "sinks": [{"step": "fry", "wait": {"rate": 3, "soft": null, "rate_after": 3}}]}],
///     "steps": [
///         {"id": "peel", "dish": "chips", "kind": "prep", "earliest": null, "latest": null,
///          "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 20, "max": 20, "hands": 1}]},
///         {"id": "fry", "dish": "chips", "kind": "fry", "earliest": null, "latest": null,
///          "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 10, "max": 10, "hands": 1}]}],
///     "links": [{"from": "peel", "to": "fry", "min": 0, "max": null,
///         "wait": {"rate": 0, "soft": null, "rate_after": 0}}]
/// }"#)?;
/// let plan: Plan = serde_json::from_str(r#"{"steps": {"peel": {"mode": 0, "start": 30, "end": 50},
///     "fry": {"mode": 0, "start": 50, "end": 60}}, "served": {"tea": 60},
///     "lateness": 0, "waiting": 0, "hot": 0, "bounds": [0, 0, 0], "status": "optimal"}"#)?;
/// let calmed = calm(&problem, &plan, &Crew::of(&problem), &ranges(&problem, &plan, 50), 0)?;
/// assert!(calmed.plan.steps["peel"].end < 50);
/// assert_eq!((calmed.plan.steps["fry"].start, calmed.waiting), (50, 0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn calm(problem: &Problem, plan: &Plan, crew: &Crew, ranges: &Ranges, price: u32) -> Result<Calmed, Error> {
    if price > 100 {
        return Err(Error::Limit { field: "price", problem: format!("{price} is not within 0 to 100") });
    }
    check(problem, plan).map_err(Error::Start)?;
    let mut best = Calmed { plan: plan.clone(), waiting: 0 };
    let day = schedule_with(problem, plan, crew);
    let (Some(order), Ok(instance)) = (Order::new(problem, plan, crew, &day, Touches::Count), Instance::new(problem))
    else {
        return Ok(best);
    };
    let room = Room::new(&order, &instance, ranges);
    let budget = plan.waiting * i64::from(price) / 100;
    for weight in WEIGHTS.into_iter().take(if budget > 0 { WEIGHTS.len() } else { 1 }) {
        let Some(next) = room.plan(weight, plan).filter(|next| check(problem, next).is_ok()) else { continue };
        if next.lateness > plan.lateness || next.hot > plan.hot {
            continue;
        }
        if next.waiting > plan.waiting + budget {
            break;
        }
        best = Calmed { waiting: next.waiting - plan.waiting, plan: next };
    }
    Ok(best)
}

/// A minute as a variable and what is added to it.
#[derive(Clone, Copy)]
struct Moment {
    column: usize,
    base: Minute,
}

/// The program without its prices.
struct Room<'o, 'p> {
    order: &'o Order<'p>,
    milp: Milp,
    moments: Vec<Moment>,
    /// What waits, between which events, and the column of its minutes past the soft ones.
    waits: Vec<(Event, Event, Wait, Option<usize>)>,
}

impl<'o, 'p> Room<'o, 'p> {
    fn new(order: &'o Order<'p>, instance: &Instance<'_>, ranges: &Ranges) -> Self {
        let mut room = Room { order, milp: Milp::default(), moments: Vec::new(), waits: Vec::new() };
        room.moments(&spans(order, instance));
        for arc in order.arcs.iter().chain(&order.circles) {
            room.apart(arc.from, arc.to, arc.least);
        }
        room.no_longer();
        room.no_hotter();
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
            let column = self.milp.column(0, hi - lo, 0, false);
            self.moments.push(Moment { column, base: lo });
            // By how much it moves, either way.
            let most = (hi - planned).max(planned - lo);
            if most > 0 {
                let moved = self.milp.column(0, most, 1, false);
                self.milp.at_least(&[(moved, 1), (column, 1)], planned - lo);
                self.milp.at_least(&[(moved, 1), (column, -1)], lo - planned);
            }
        }
    }

    /// `to` comes at least so many minutes after `from`.
    fn apart(&mut self, from: Event, to: Event, least: Minute) {
        let (a, b) = (self.moments[from], self.moments[to]);
        if a.column != b.column {
            self.milp.at_least(&[(b.column, 1), (a.column, -1)], least + a.base - b.base);
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

    /// Each oven keeps the spells it has: what begins one still does, and none lasts longer.
    fn no_hotter(&mut self) {
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
    }

    fn one_spell(&mut self, spell: &[usize], until: Minute) {
        let Some(&first) = spell.first() else { return };
        let lasts = until - self.order.planned[start(first)];
        for &step in spell {
            if step != first {
                self.apart(start(first), start(step), 0);
            }
            self.apart(end(step), start(first), -lasts);
        }
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
            let after = self.order.arcs.iter().filter(|arc| arc.from == event && gives(self.order, arc));
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

    /// The plan that is best if waiting costs so much against room.
    fn plan(&self, weight: i64, original: &Plan) -> Option<Plan> {
        let mut milp = self.milp.clone();
        for &(from, to, wait, past) in &self.waits {
            milp.charge(self.moments[to].column, weight * wait.rate);
            milp.charge(self.moments[from].column, -weight * wait.rate);
            if let Some(past) = past {
                milp.charge(past, weight * (wait.rate_after - wait.rate));
            }
        }
        let Answer::Found { values, .. } = milp.solve(1) else { return None };
        let at = |event: Event| {
            let Moment { column, base } = self.moments[event];
            base + values[column].round() as Minute
        };
        let problem = self.order.problem;
        let mut plan = original.clone();
        for (step, run) in self.order.runs.iter().enumerate() {
            let moved = PlannedStep::new(run.planned.mode, at(start(step)), at(end(step)));
            plan.steps.insert(run.step.id.clone(), moved);
        }
        for (number, course) in problem.courses.iter().enumerate() {
            plan.served.insert(course.id.clone(), at(self.order.serving(number)));
        }
        [plan.lateness, plan.waiting, plan.hot] = cost(problem, &plan).ok()?.goals();
        let best = plan.bounds == [plan.lateness, plan.waiting, plan.hot];
        plan.status = if best { Status::Optimal } else { Status::Feasible };
        Some(plan)
    }
}

/// Whether there may be room between the two: not within a step that cannot give, nor where one follows the other at once.
fn gives(order: &Order<'_>, arc: &Arc) -> bool {
    let at_once = |from: usize, to: usize| {
        let (from, to) = (&order.runs[from].step.id, &order.runs[to].step.id);
        let link = order.problem.links.iter().find(|link| link.from == *from && link.to == *to);
        link.is_some_and(|link| link.max == Some(link.min))
    };
    match (order.step_of(arc.from), order.step_of(arc.to)) {
        (Some(from), Some(_)) if arc.tie == Tie::Minutes => order.runs[from].mode.max > order.runs[from].mode.min,
        (Some(from), Some(to)) => from != to && !at_once(from, to),
        _ => true,
    }
}

/// When each event may be: by its links, its food and whoever does it; servings when they are.
fn spans(order: &Order<'_>, instance: &Instance<'_>) -> Vec<[Minute; 2]> {
    let mut spans: Vec<[Minute; 2]> = order.planned.iter().map(|&minute| [minute; 2]).collect();
    for (step, run) in order.runs.iter().enumerate() {
        let source = &instance.steps[step];
        let ready = source
            .modes
            .iter()
            .find(|mode| mode.source == run.planned.mode)
            .map_or(instance.horizon, |mode| mode.ready);
        let (starts, ends) = (instance.windows.start[step], instance.windows.end[step]);
        spans[start(step)] = [starts.lo.max(ready).into(), starts.hi.into()];
        spans[end(step)] = [ends.lo.into(), ends.hi.into()];
    }
    for piece in &order.pieces {
        let ends = [piece.begin, piece.finish];
        let [begin, finish] = ends.map(|(event, offset)| order.planned[event] + offset);
        let spell = order
            .present
            .get(piece.cook)
            .and_then(|present| present.iter().find(|[comes, leaves]| *comes <= begin && finish <= *leaves));
        let [comes, leaves] = spell.copied().unwrap_or([begin, finish]);
        for (event, offset) in ends {
            let [lo, hi] = &mut spans[event];
            (*lo, *hi) = ((*lo).max(comes - offset), (*hi).min(leaves - offset));
        }
    }
    // The plan is one of those that are possible, whatever was concluded.
    for (span, &planned) in spans.iter_mut().zip(&order.planned) {
        *span = [span[0].min(planned), span[1].max(planned)];
    }
    // The end of what cannot give has no column of its own.
    for (step, run) in order.runs.iter().enumerate().filter(|(_, run)| run.mode.min == run.mode.max) {
        let [lo, hi] = spans[end(step)].map(|minute| minute - run.mode.min);
        let span = &mut spans[start(step)];
        *span = [span[0].max(lo), span[1].min(hi)];
    }
    spans
}

/// How many minutes each event may come late, as doubts add up along the plan: the root of the sum of their squares, less
/// the room there is already.
fn doubts(order: &Order<'_>, ranges: &Ranges) -> Vec<f64> {
    let mut doubts = vec![0.0_f64; order.planned.len()];
    for &event in &order.sequence {
        let mut doubt = 0.0_f64;
        for arc in order.arcs.iter().filter(|arc| arc.to == event) {
            let room = order.planned[event] - order.planned[arc.from] - arc.least;
            doubt = doubt.max(doubts[arc.from] - room as f64);
        }
        let own = order.step_of(event).filter(|_| event % 2 == 1).map_or(0.0, |step| {
            let run = &order.runs[step];
            ranges.get(&run.step.id).map_or(0.0, |range| (range.longest - run.mode.min).max(0) as f64)
        });
        doubts[event] = (doubt * doubt + own * own).sqrt().min(MOST_ROOM);
    }
    doubts
}

#[cfg(test)]
mod tests;

//! The plan that was handed out, pushed on just as far as what has happened demands.
//!
//! Ways, cooks and order stay. All rules are then differences between two events, so that of all plans in which nothing is
//! earlier than it was there is one in which every event is earliest: no other one of them moves anything less.

use std::collections::BTreeSet;

use rangewright_models::day::Stage;
use rangewright_models::oven::changeover;
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::Minute;

use super::price::may_last;
use super::today::Today;
use crate::order::{Arc, Event, Order, Tie, end, start};

/// Beyond any minute of a plan.
const HORIZON: Minute = 43_200;
/// The most limits that are given up, one after the other.
const MOST_GIVEN: usize = 200;

/// What events may not be moved, and how early the others may be.
pub(super) struct Frame {
    fixed: Vec<bool>,
    /// Ends of what runs and cannot be stretched: only what is in the way of taking it out moves them.
    rigid: Vec<bool>,
    /// Steps that come sooner because what they follow does.
    early: Vec<bool>,
    at: Vec<Minute>,
}

impl Frame {
    /// The facts of today, and everything else no earlier than in a plan of the same steps.
    pub(super) fn of(today: &Today<'_>, order: &Order<'_>, plan: &Plan) -> Option<Frame> {
        let now = today.now();
        let mut frame = Frame {
            fixed: vec![false; order.planned.len()],
            rigid: vec![false; order.planned.len()],
            early: vec![false; order.runs.len()],
            at: order.planned.clone(),
        };
        for (index, (step, stage)) in today.problem.steps.iter().zip(&today.stages).enumerate() {
            let own = plan.steps.get(&step.id)?;
            let (from, to) = (start(index), end(index));
            match *stage {
                Stage::Done { start, end, .. } => {
                    (frame.at[from], frame.at[to]) = (start, end);
                    (frame.fixed[from], frame.fixed[to]) = (true, true);
                }
                Stage::Running { start, until, mode, .. } if !today.interrupted.contains(&step.id) => {
                    frame.at[from] = start;
                    frame.fixed[from] = true;
                    let own_mode = &step.modes[mode];
                    frame.rigid[to] = own_mode.min == own_mode.max;
                    let least = now.max(start + own_mode.min);
                    // What is known to be done sooner is taken out sooner.
                    frame.at[to] = if until.is_some() || frame.rigid[to] { least } else { least.max(own.end) };
                }
                Stage::Running { .. } | Stage::Waiting => {
                    let earliest = step.earliest.unwrap_or(now).max(now).max(warm(today, order, index));
                    frame.at[from] = own.start.max(earliest);
                    frame.at[to] = own.end.max(now);
                }
            }
        }
        frame.follow_what_is_early(today, order);
        for (number, course) in today.problem.courses.iter().enumerate() {
            let event = order.serving(number);
            match today.day.served.get(&course.id) {
                Some(&at) => (frame.at[event], frame.fixed[event]) = (at, true),
                None => frame.at[event] = course.serve.max(now),
            }
        }
        Some(frame)
    }
}

impl Frame {
    /// Courses are served no sooner than planned.
    pub(super) fn serve_as_planned(&mut self, order: &Order<'_>) {
        let servings = order.serving(0)..order.planned.len();
        servings.for_each(|event| self.at[event] = self.at[event].max(order.planned[event]));
    }

    /// What may not wait long after something that is done sooner than planned comes sooner as well: the hot finish after
    /// its roast, and the rest after that, which may then last until its planned end.
    fn follow_what_is_early(&mut self, today: &Today<'_>, order: &Order<'_>) {
        for _ in 0..today.problem.links.len() {
            let mut changed = false;
            for link in &today.problem.links {
                let (Some(from), Some(to), Some(max)) = (order.index(&link.from), order.index(&link.to), link.max)
                else {
                    continue;
                };
                let latest = (self.at[end(from)] + max).max(today.now());
                let known = self.rigid[end(from)] || self.fixed[end(from)] || self.early[from];
                if !known || self.fixed[start(to)] || self.at[start(to)] <= latest {
                    continue;
                }
                let mode = order.runs[to].mode;
                self.at[start(to)] = latest;
                self.at[end(to)] = self.at[end(to)].min(latest + mode.max);
                (self.early[to], changed) = (true, true);
            }
            if !changed {
                return;
            }
        }
    }
}

/// The first minute at which the air can be as a step that has not begun needs it.
fn warm(today: &Today<'_>, order: &Order<'_>, index: usize) -> Minute {
    let mode = order.runs[index].mode;
    let cavity = today.problem.places.iter().find_map(|place| match place {
        rangewright_models::problem::Place::Cavity(cavity) if mode.place.as_ref() == Some(&cavity.id) => Some(cavity),
        _ => None,
    });
    let needed = cavity.zip(mode.t).and_then(|(cavity, window)| {
        let air = today.air.get(&cavity.id).copied().unwrap_or(cavity.t_open);
        changeover(cavity, [air; 2], window)
    });
    needed.map_or(today.now(), |minutes| today.now() + minutes)
}

/// An upper limit: `to` comes no more than so many minutes before `from`.
struct Limit {
    arc: Arc,
    what: Option<Given>,
}

/// Something a menu asks for that can be given up when what has happened leaves no other way.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Given {
    /// How long an elastic step may last.
    Minutes(String),
    /// How long food may wait from one step to another.
    Gap(String, String),
    /// How long a dish, by its last step, may stand before its course is served.
    Together(String, String),
    /// How long after the course before.
    Pause(String),
}

/// The earliest minutes of all events, none below `frame`; `None` if that leads beyond all bounds, or no cook is there.
///
/// If `given` is there, limits that cannot be kept are put into it, the nearest to what has happened first.
pub(super) fn earliest(
    order: &Order<'_>,
    frame: &Frame,
    overtime: bool,
    mut given: Option<&mut BTreeSet<Given>>,
) -> Option<Vec<Minute>> {
    for _ in 0..MOST_GIVEN {
        let limits: Vec<Limit> = (limits(order).into_iter())
            .filter(|limit| {
                limit.what.as_ref().is_none_or(|what| given.as_ref().is_none_or(|given| !given.contains(what)))
            })
            .collect();
        match pushed(order, frame, overtime, &limits) {
            Ok(at) => return at,
            Err(chain) => {
                let given = given.as_mut()?;
                let could = || chain.iter().filter_map(|&limit| limits[limit].what.clone());
                // It is easier to rest or to stand longer than to come apart from the rest of the course.
                let what = could()
                    .find(|what| matches!(what, Given::Minutes(_)))
                    .or_else(|| could().find(|what| matches!(what, Given::Gap(..))))
                    .or_else(|| could().next())?;
                given.insert(what);
            }
        }
    }
    None
}

/// Pushes every event on as far as it must be. The error is the chain of limits that would move a fact.
fn pushed(
    order: &Order<'_>,
    frame: &Frame,
    overtime: bool,
    limits: &[Limit],
) -> Result<Option<Vec<Minute>>, Vec<usize>> {
    let mut at = frame.at.clone();
    let mut why: Vec<Option<usize>> = vec![None; at.len()];
    let arcs: Vec<Arc> = order.arcs.iter().chain(&order.circles).copied().collect();
    let firm = arcs.len();
    let arc = |number: usize| if number < firm { &arcs[number] } else { &limits[number - firm].arc };
    let chain = |last: usize, why: &[Option<usize>]| {
        let mut chain = vec![last];
        while let Some(before) = why[arc(chain[chain.len() - 1]).from].filter(|_| chain.len() <= why.len()) {
            chain.push(before);
        }
        chain.into_iter().filter(|&number| number >= firm).map(|number| number - firm).collect::<Vec<usize>>()
    };
    let mut last = 0;
    for _ in 0..2 * at.len() + 64 {
        let mut changed = false;
        for number in 0..firm + limits.len() {
            let Arc { from, to, least, .. } = *arc(number);
            let minute = at[from] + least;
            // Between two facts nothing is left to be kept to.
            if at[to] >= minute || frame.fixed[from] && frame.fixed[to] {
                continue;
            }
            // What is done, or runs at its minutes, is not moved for anything's sake.
            if number >= firm && (frame.fixed[to] || frame.rigid[to]) || minute > HORIZON {
                return Err(chain(number, &why));
            }
            if !frame.fixed[to] {
                (at[to], why[to], changed, last) = (minute, Some(number), true, number);
            }
        }
        for piece in &order.pieces {
            let (event, offset) = piece.begin;
            let [begin, finish] = [piece.begin, piece.finish].map(|(event, offset)| at[event] + offset);
            let Some(present) = order.present.get(piece.cook) else { continue };
            let there = |[comes, leaves]: &[Minute; 2]| begin.max(*comes) + (finish - begin) <= *leaves;
            match present.iter().find(|spell| there(spell)) {
                Some(spell) if begin < spell[0] && !frame.fixed[event] => {
                    (at[event], changed) = (spell[0] - offset, true);
                }
                Some(_) => {}
                None if overtime || frame.fixed[event] => {}
                None => return Ok(None),
            }
        }
        if !changed {
            return Ok(Some(at));
        }
    }
    // They push each other on for ever.
    Err(chain(last, &why))
}

fn limits(order: &Order<'_>) -> Vec<Limit> {
    let mut limits = Vec::new();
    let mut limit = |from: Event, to: Event, most: Minute, what: Option<Given>| {
        limits.push(Limit { arc: Arc { from, to, least: -most, tie: Tie::Link }, what });
    };
    for (index, run) in order.runs.iter().enumerate() {
        let what = may_last(run.step, run.mode).then(|| Given::Minutes(run.step.id.clone()));
        limit(end(index), start(index), run.mode.max, what);
    }
    for link in &order.problem.links {
        if let (Some(from), Some(to), Some(max)) = (order.index(&link.from), order.index(&link.to), link.max) {
            let what = (!link.stay).then(|| Given::Gap(link.from.clone(), link.to.clone()));
            limit(start(to), end(from), max, what);
        }
    }
    for (number, course) in order.problem.courses.iter().enumerate() {
        for sink in &course.sinks {
            let Some(step) = order.index(&sink.step) else { continue };
            let what = Given::Together(course.id.clone(), sink.step.clone());
            limit(order.serving(number), end(step), course.together, Some(what));
        }
        let before = course.after.as_ref().and_then(|after| {
            let before = order.problem.courses.iter().position(|own| own.id == after.course)?;
            Some((before, after.max?))
        });
        if let Some((before, max)) = before {
            limit(order.serving(number), order.serving(before), max, Some(Given::Pause(course.id.clone())));
        }
    }
    limits
}

/// Each event as late as the others allow, up to `most`; what is there is valid.
pub(super) fn latest(order: &Order<'_>, at: &[Minute], most: &[Minute]) -> Vec<Minute> {
    let mut late = most.to_vec();
    let arcs: Vec<Arc> = (order.arcs.iter().chain(&order.circles).copied())
        .chain(limits(order).into_iter().map(|limit| limit.arc))
        .collect();
    loop {
        let mut changed = false;
        for arc in &arcs {
            let bound = (late[arc.to] - arc.least).max(at[arc.from]);
            if late[arc.from] > bound {
                late[arc.from] = bound;
                changed = true;
            }
        }
        if !changed {
            return late;
        }
    }
}

/// The plan with these minutes for its events.
pub(super) fn timed(order: &Order<'_>, plan: &Plan, at: &[Minute]) -> Plan {
    let mut timed = plan.clone();
    for (index, run) in order.runs.iter().enumerate() {
        let planned = PlannedStep { start: at[start(index)], end: at[end(index)], ..run.planned.clone() };
        timed.steps.insert(run.step.id.clone(), planned);
    }
    for (number, course) in order.problem.courses.iter().enumerate() {
        timed.served.insert(course.id.clone(), at[order.serving(number)]);
    }
    timed
}

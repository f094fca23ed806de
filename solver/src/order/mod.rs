//! What has to wait for what, once the ways, the places and the order of a plan are settled.
//!
//! Events are the start and the end of each step and the serving of each course. An [`Arc`] says that one comes at least so
//! many minutes after another: because a step takes its minutes, because a link says so, or because both need the same
//! cook, burner, pool, rack, air or shut door, and the plan has one of them first. Whatever the minutes become, as long as
//! all arcs hold, nobody and nothing is needed twice (a partial-order schedule, as in resource-constrained scheduling).

mod cavities;
mod hands;
mod pools;

use petgraph::algo::toposort;
use petgraph::graph::{DiGraph, NodeIndex};
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Minute, Mode, Place, Problem, Step};
use rangewright_models::schedule::{Crew, Schedule};

/// Minutes beyond any plan: nothing is counted with them.
const FAR: Minute = 100_000;

/// What takes no longer than this is done between two moves of other work, if it must be, minutes.
pub(crate) const MOMENT: Minute = 2;

/// An event: start and end of step `i` are `2 i` and `2 i + 1`, then come the servings.
pub(crate) type Event = usize;

/// Why an event waits for another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Tie {
    /// The step takes its minutes.
    Minutes,
    /// A link between dishes or steps.
    Link,
    /// The same cook.
    Hands,
    /// The same burner, rack, air or top, or a door that stays shut.
    Place,
    /// The same pool.
    Pool,
    /// A course is served once its dishes are done, and some time after the course before.
    Course,
}

/// `to` comes at least `least` minutes after `from`.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Arc {
    pub(crate) from: Event,
    pub(crate) to: Event,
    pub(crate) least: Minute,
    pub(crate) tie: Tie,
}

/// A piece of hands-on work, as `[begin, finish)` of which each hangs on an event by an offset.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    pub(crate) cook: usize,
    pub(crate) begin: (Event, Minute),
    pub(crate) finish: (Event, Minute),
}

/// A step as it is planned.
#[derive(Clone, Copy)]
pub(crate) struct Run<'a> {
    pub(crate) step: &'a Step,
    pub(crate) mode: &'a Mode,
    pub(crate) planned: &'a PlannedStep,
}

/// The order of a plan.
#[derive(Clone)]
pub(crate) struct Order<'a> {
    pub(crate) problem: &'a Problem,
    pub(crate) runs: Vec<Run<'a>>,
    /// The planned minute of each event.
    pub(crate) planned: Vec<Minute>,
    pub(crate) arcs: Vec<Arc>,
    /// Arcs that close a circle: work that has to be done between the start of a step and its stirring, for one.
    pub(crate) circles: Vec<Arc>,
    pub(crate) pieces: Vec<Piece>,
    /// Who is there when, by cook.
    pub(crate) present: Vec<Vec<[Minute; 2]>>,
    /// All events, each after those it waits for.
    pub(crate) sequence: Vec<Event>,
}

/// Whether basting, stirring and probing take part in the order of the hands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Touches {
    /// They do: nobody is double-booked even for a minute.
    Count,
    /// They are done in passing, when a hand is free.
    Pass,
    /// So is what takes no longer than [`MOMENT`]: putting in, taking out.
    Short,
}

pub(crate) fn start(step: usize) -> Event {
    2 * step
}

pub(crate) fn end(step: usize) -> Event {
    2 * step + 1
}

impl<'a> Order<'a> {
    /// The order of a plan that names each step and has a mode for it; `day` is its schedule with this crew.
    ///
    /// `None` if it does not.
    pub(crate) fn new(
        problem: &'a Problem,
        plan: &'a Plan,
        crew: &Crew,
        day: &Schedule,
        touches: Touches,
    ) -> Option<Order<'a>> {
        let mut minutes = plan.steps.values().flat_map(|own| [own.start, own.end]).chain(plan.served.values().copied());
        if problem.has_absurd_numbers() || minutes.any(|minute| !(-FAR..=FAR).contains(&minute)) {
            return None;
        }
        let run = |step: &'a Step| {
            let planned = plan.steps.get(&step.id)?;
            Some(Run { step, mode: step.modes.get(planned.mode)?, planned })
        };
        let runs: Vec<Run<'a>> = problem.steps.iter().map(run).collect::<Option<_>>()?;
        let mut planned: Vec<Minute> = runs.iter().flat_map(|run| [run.planned.start, run.planned.end]).collect();
        for course in &problem.courses {
            let done = course.sinks.iter().filter_map(|sink| plan.steps.get(&sink.step)).map(|own| own.end);
            planned.push(plan.served.get(&course.id).copied().unwrap_or(done.fold(course.serve, Minute::max)));
        }
        let mut order = Order {
            problem,
            runs,
            planned,
            arcs: Vec::new(),
            circles: Vec::new(),
            pieces: Vec::new(),
            present: crew.cooks.iter().map(|cook| cook.present.clone()).collect(),
            sequence: Vec::new(),
        };
        order.add_steps();
        let mut wishes = Vec::new();
        order.pieces = hands::pieces(&order, day, touches);
        hands::arcs(&order, &mut wishes);
        cavities::arcs(&order, touches, &mut wishes);
        pools::arcs(&order, &mut wishes);
        order.add_where_acyclic(wishes)?;
        Some(order)
    }

    /// The same order but for the hands, which take things as they come at these minutes.
    pub(crate) fn take_hands_as_they_come(&mut self, at: &[Minute]) {
        self.drop_hands();
        let (pieces, arcs) = hands::resequenced(self, at);
        self.pieces = pieces;
        self.arcs.extend(arcs);
    }

    /// Without the hands.
    pub(crate) fn drop_hands(&mut self) {
        self.arcs.retain(|arc| arc.tie != Tie::Hands);
        self.circles.retain(|arc| arc.tie != Tie::Hands);
    }

    pub(crate) fn index(&self, step: &str) -> Option<usize> {
        self.runs.iter().position(|run| run.step.id == step)
    }

    pub(crate) fn serving(&self, course: usize) -> Event {
        2 * self.runs.len() + course
    }

    /// The most minutes of room that there may be between the two events of an arc: none within a step that cannot give, nor
    /// where one follows the other at once; as long as food may stand before its course.
    pub(crate) fn most_room(&self, arc: &Arc) -> Minute {
        match (self.step_of(arc.from), self.step_of(arc.to)) {
            (Some(step), Some(to)) if step == to => {
                let Mode { min, max, .. } = self.runs[step].mode;
                if arc.tie == Tie::Minutes { max - min } else { 0 }
            }
            (Some(from), Some(to)) => {
                let (from, to) = (&self.runs[from].step.id, &self.runs[to].step.id);
                let link = self.problem.links.iter().find(|link| link.from == *from && link.to == *to);
                link.and_then(|link| Some(link.max? - link.min)).unwrap_or(Minute::MAX)
            }
            (Some(step), None) => {
                let course = &self.problem.courses[arc.to - 2 * self.runs.len()];
                let stands = course.sinks.iter().any(|sink| sink.step == self.runs[step].step.id);
                if stands { course.together } else { 0 }
            }
            _ => 0,
        }
    }

    /// The step an event belongs to; none for a serving.
    pub(crate) fn step_of(&self, event: Event) -> Option<usize> {
        (event < 2 * self.runs.len()).then_some(event / 2)
    }

    fn add_steps(&mut self) {
        for (index, run) in self.runs.iter().enumerate() {
            let arc = Arc { from: start(index), to: end(index), least: run.mode.min, tie: Tie::Minutes };
            self.arcs.push(arc);
        }
        for link in &self.problem.links {
            if let (Some(from), Some(to)) = (self.index(&link.from), self.index(&link.to)) {
                self.arcs.push(Arc { from: end(from), to: start(to), least: link.min, tie: Tie::Link });
            }
        }
        for (number, course) in self.problem.courses.iter().enumerate() {
            let to = self.serving(number);
            let sinks: Vec<usize> = course.sinks.iter().filter_map(|sink| self.index(&sink.step)).collect();
            self.arcs.extend(sinks.into_iter().map(|step| Arc { from: end(step), to, least: 0, tie: Tie::Course }));
            let Some(after) = &course.after else { continue };
            if let Some(before) = self.problem.courses.iter().position(|own| own.id == after.course) {
                self.arcs.push(Arc { from: self.serving(before), to, least: after.min, tie: Tie::Course });
            }
        }
    }

    /// Takes up what the plan's minutes bear out, as long as nothing then waits for itself, and finds the sequence.
    fn add_where_acyclic(&mut self, mut wishes: Vec<Arc>) -> Option<()> {
        let mut graph: DiGraph<(), ()> = DiGraph::new();
        for _ in 0..self.planned.len() {
            graph.add_node(());
        }
        for arc in &self.arcs {
            graph.update_edge(NodeIndex::new(arc.from), NodeIndex::new(arc.to), ());
        }
        wishes.retain(|arc| arc.from != arc.to);
        wishes.sort_by_key(|arc| {
            let hands = arc.tie == Tie::Hands;
            (self.planned[arc.from], self.planned[arc.to], arc.from, arc.to, hands, -arc.least)
        });
        // Hands may be taken out again, and what else ties the two must then still be there.
        wishes.dedup_by_key(|arc| (arc.from, arc.to, arc.tie == Tie::Hands));
        let mut space = petgraph::algo::DfsSpace::new(&graph);
        for arc in wishes {
            let (from, to) = (NodeIndex::new(arc.from), NodeIndex::new(arc.to));
            // Runs through all evenings need a sequence of events.
            if !petgraph::algo::has_path_connecting(&graph, to, from, Some(&mut space)) {
                graph.update_edge(from, to, ());
                self.arcs.push(arc);
            } else if self.planned[arc.to] - self.planned[arc.from] >= arc.least {
                self.circles.push(arc);
            }
        }
        let sequence = toposort(&graph, None).ok()?;
        self.sequence = sequence.into_iter().map(NodeIndex::index).collect();
        Some(())
    }

    /// The cavities and tops of the problem with the indices of the steps in them.
    pub(crate) fn guests_of(&self, place: &Place) -> Vec<usize> {
        let here = |run: &Run<'_>| run.mode.place.as_deref() == Some(place.id());
        (0..self.runs.len()).filter(|&step| here(&self.runs[step])).collect()
    }
}

//! The chain of steps and waits that fixes when a plan is done.

use std::collections::{BTreeMap, BTreeSet};

use rangewright_models::oven::changeover;
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Minute, Place, Problem};
use rangewright_models::schedule::{Crew, schedule_with};
use serde::{Deserialize, Serialize};

use crate::order::{Arc, Event, Order, Piece, Tie, Touches, end, start};

/// One step of the chain.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ChainStep {
    /// The step.
    pub step: String,
    /// Its first minute.
    pub start: Minute,
    /// The minute after its last.
    pub end: Minute,
    /// What keeps it from being done sooner.
    pub because: Because,
}

/// What keeps a step from being done sooner.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Because {
    /// It follows this step, with the least gap between them.
    Follows {
        /// The earlier step.
        step: String,
    },
    /// The place is taken by this step, or still changes its temperature after it.
    Place {
        /// The place.
        place: String,
        /// The step before.
        step: String,
    },
    /// The hands are busy with this step.
    Hands {
        /// The step that frees a hand.
        step: String,
    },
    /// Something of which there is only so much is in use by this step.
    Pool {
        /// The pool.
        pool: String,
        /// The step that gives it back.
        step: String,
    },
    /// Done sooner, it would wait longer for this step than it may.
    Waits {
        /// The later step.
        step: String,
    },
    /// Done sooner, it would be ready longer before its course is served than it may.
    Together {
        /// The course.
        course: String,
    },
    /// A shift begins.
    Shift,
    /// The step's own earliest time.
    Earliest,
    /// The cavity reaches its first heat.
    FirstHeat {
        /// The cavity.
        place: String,
    },
    /// The kitchen opens.
    Opening,
    /// Nothing that is looked at here: it could be done sooner by itself.
    Slack,
}

/// What decides when all is served.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Chain {
    /// The steps, the first one first; the last one ends with a serving.
    pub steps: Vec<ChainStep>,
    /// The courses after that serving which only keep their distance from the course before, in order of time.
    pub then: Vec<String>,
}

/// The chain that ends with the latest serving.
///
/// Backwards from that serving, each step is followed by what it waited for to the minute: a step before it, a place, hands,
/// a pool, or a later step for which it cannot wait any longer. Of all such chains one is given that leads back
/// to something that cannot move: the opening, a shift, a first heat, an earliest time; it alone proves that this order
/// of things serves no sooner. If none does, the first step of the chain says [`Because::Slack`].
pub fn chain(problem: &Problem, plan: &Plan) -> Chain {
    let crew = Crew::of(problem);
    let day = schedule_with(problem, plan, &crew);
    let order = Order::new(problem, plan, &crew, &day, Touches::Count);
    order.and_then(|order| Search::new(&order).chain()).unwrap_or_default()
}

/// An event, and what keeps it from being sooner; nothing where that is the rest of the same step, or a serving.
type Held = (Event, Option<Because>);

struct Search<'a> {
    order: &'a Order<'a>,
    /// What holds events from before, by the event held: the event behind it, and what ties the two.
    behind: BTreeMap<Event, Vec<(Event, Tied)>>,
}

/// What ties an event to the one before it, the likeliest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Tied {
    /// Minutes of the step.
    Own,
    Link,
    Course,
    Place,
    Pool,
    Hands,
    /// The step may not last longer.
    Most,
    /// A longest gap.
    Waits,
    /// The dishes of a course are done about the same time.
    Together,
}

impl Tied {
    /// What is plain to a cook costs little: one thing after another rather than what may not wait for what.
    fn cost(self) -> usize {
        match self {
            Tied::Own | Tied::Course => 0,
            Tied::Link => 1,
            Tied::Place => 2,
            Tied::Pool | Tied::Hands => 3,
            Tied::Most | Tied::Waits | Tied::Together => 20,
        }
    }
}

impl<'a> Search<'a> {
    fn new(order: &'a Order<'a>) -> Self {
        let tied = |arc: &Arc| match arc.tie {
            Tie::Minutes => Tied::Own,
            Tie::Link => Tied::Link,
            Tie::Course => Tied::Course,
            Tie::Place => Tied::Place,
            Tie::Pool => Tied::Pool,
            Tie::Hands => Tied::Hands,
        };
        let arcs = order.arcs.iter().chain(&order.circles).map(|arc| (arc.from, arc.to, arc.least, tied(arc)));
        let longest = order.problem.links.iter().filter_map(|link| {
            let (from, to) = (order.index(&link.from)?, order.index(&link.to)?);
            Some((start(to), end(from), -link.max?, Tied::Waits))
        });
        let runs = order.runs.iter().enumerate();
        let most = runs.map(|(index, run)| (end(index), start(index), -run.mode.max, Tied::Most));
        let courses = order.problem.courses.iter().enumerate();
        let together = courses.flat_map(|(number, course)| {
            let sinks = course.sinks.iter().filter_map(|sink| order.index(&sink.step));
            sinks.map(move |sink| (order.serving(number), end(sink), -course.together, Tied::Together))
        });
        let mut behind: BTreeMap<Event, Vec<(Event, Tied)>> = BTreeMap::new();
        for (from, to, least, tied) in arcs.chain(longest).chain(most).chain(together) {
            if order.planned[from] + least == order.planned[to] {
                behind.entry(to).or_default().push((from, tied));
            }
        }
        behind.values_mut().for_each(|holders| holders.sort_by_key(|&(from, tied)| (tied, from)));
        Search { order, behind }
    }

    fn chain(&self) -> Option<Chain> {
        let courses = &self.order.problem.courses;
        let served = (0..courses.len()).filter(|&course| !courses[course].sinks.is_empty());
        let last = served.max_by_key(|&course| self.order.planned[self.order.serving(course)])?;
        let serving = self.order.serving(last);
        let sinks = courses[last].sinks.iter().filter_map(|sink| self.order.index(&sink.step)).map(end);
        let sink = sinks.max_by_key(|&sink| self.order.planned[sink])?;
        // Where nothing holds the serving, at least its last dish is told.
        let from = if self.behind.contains_key(&serving) { serving } else { sink };
        let held = self.back(serving).unwrap_or_else(|| self.as_far(from));
        let steps = self.told(&held);
        // The first of the servings at the end is that of the last step.
        let after = held.iter().rposition(|&(event, _)| self.order.step_of(event).is_some()).map_or(0, |last| last + 1);
        let servings = held[after..].iter().map(|&(event, _)| event - self.order.serving(0));
        Some(Chain { steps, then: servings.skip(1).map(|course| courses[course].id.clone()).collect() })
    }

    /// From something that cannot move to an event, by the plainest ties.
    fn back(&self, event: Event) -> Option<Vec<Held>> {
        let mut ways: BTreeMap<Event, (usize, Option<(Event, Tied)>)> = BTreeMap::from([(event, (0, None))]);
        let mut open = BTreeSet::from([(0, event)]);
        let mut done = BTreeSet::new();
        while let Some((cost, at)) = open.pop_first() {
            if !done.insert(at) {
                continue;
            }
            if let Some(root) = self.root(at) {
                let (mut held, mut at) = (vec![(at, Some(root))], at);
                while let Some((to, tied)) = ways[&at].1 {
                    held.push((to, self.because(at, to, tied)));
                    at = to;
                }
                return Some(held);
            }
            for &(from, tied) in self.behind.get(&at).into_iter().flatten() {
                let cost = cost + tied.cost();
                if ways.get(&from).is_none_or(|(known, _)| cost < *known) {
                    ways.insert(from, (cost, Some((at, tied))));
                    open.insert((cost, from));
                }
            }
        }
        None
    }

    /// The likeliest holder of each event in turn, as far as they go.
    fn as_far(&self, event: Event) -> Vec<Held> {
        let mut chain: Vec<Held> = Vec::new();
        let mut at = event;
        loop {
            let holders = self.behind.get(&at).into_iter().flatten();
            let next = holders.clone().find(|(from, _)| chain.iter().all(|(own, _)| own != from));
            let Some(&(from, tied)) = next else { break };
            chain.push((at, self.because(from, at, tied)));
            at = from;
        }
        chain.push((at, Some(Because::Slack)));
        chain.reverse();
        chain
    }

    /// Something that cannot move and keeps an event from being sooner.
    fn root(&self, event: Event) -> Option<Because> {
        let order = self.order;
        let run = order.runs[order.step_of(event)?];
        let at = order.planned[event];
        if event == start(order.step_of(event)?) {
            if run.step.earliest == Some(at) {
                return Some(Because::Earliest);
            }
            if at == order.problem.opening {
                return Some(Because::Opening);
            }
            let cavity = order.problem.places.iter().find_map(|place| match place {
                Place::Cavity(cavity) if run.mode.place.as_ref() == Some(&cavity.id) => Some(cavity),
                _ => None,
            });
            if let (Some(cavity), Some(window)) = (cavity, run.mode.t)
                && changeover(cavity, [cavity.t_open; 2], window)
                    .is_some_and(|least| order.problem.opening + least == at)
            {
                return Some(Because::FirstHeat { place: cavity.id.clone() });
            }
        }
        let own: Vec<&Piece> = order.pieces.iter().filter(|piece| piece.begin.0 == event).collect();
        let comes = |piece: &&&Piece| {
            let begin = at + piece.begin.1;
            order.present[piece.cook].iter().any(|[comes, _]| *comes == begin)
        };
        own.iter().find(comes).filter(|piece| self.free_before(piece) < own.len()).map(|_| Because::Shift)
    }

    /// How many could have done this piece of work a minute sooner.
    fn free_before(&self, piece: &Piece) -> usize {
        let order = self.order;
        let minutes = |piece: &Piece| [piece.begin, piece.finish].map(|(event, offset)| order.planned[event] + offset);
        let [from, to] = minutes(piece).map(|minute| minute - 1);
        let at_work = |cook: usize| {
            let others = order.pieces.iter().filter(|other| other.cook == cook && other.begin.0 != piece.begin.0);
            others.map(minutes).any(|[begin, finish]| begin < to && from < finish)
        };
        let there = |cook: usize| order.present[cook].iter().any(|&[comes, leaves]| comes <= from && to <= leaves);
        (0..order.present.len()).filter(|&cook| there(cook) && !at_work(cook)).count()
    }

    fn because(&self, from: Event, to: Event, tied: Tied) -> Option<Because> {
        let order = self.order;
        let own = order.step_of(to)?;
        let Some(before) = order.step_of(from) else {
            let course = &order.problem.courses[from - order.serving(0)];
            return Some(Because::Together { course: course.id.clone() });
        };
        let (step, mode) = (order.runs[before].step.id.clone(), order.runs[own].mode);
        match tied {
            _ if before == own => None,
            Tied::Own | Tied::Most | Tied::Course | Tied::Together => None,
            Tied::Link => Some(Because::Follows { step }),
            Tied::Place => Some(Because::Place { place: mode.place.clone()?, step }),
            Tied::Pool => {
                let mut shared = mode.pools.keys().filter(|pool| order.runs[before].mode.pools.contains_key(*pool));
                Some(Because::Pool { pool: shared.next()?.clone(), step })
            }
            Tied::Hands => Some(Because::Hands { step }),
            Tied::Waits => Some(Because::Waits { step }),
        }
    }

    /// One line for each step: what holds its start, or its end if that is what matters.
    fn told(&self, held: &[Held]) -> Vec<ChainStep> {
        let mut told: Vec<ChainStep> = Vec::new();
        for (event, because) in held {
            let (Some(step), Some(because)) = (self.order.step_of(*event), because.clone()) else { continue };
            let run = self.order.runs[step];
            match told.last_mut() {
                Some(last) if last.step == run.step.id => last.because = because,
                _ => {
                    let &PlannedStep { start, end, .. } = run.planned;
                    told.push(ChainStep { step: run.step.id.clone(), start, end, because });
                }
            }
        }
        told
    }
}

//! The chain of steps and waits that fixes when a plan is done.

use std::collections::BTreeSet;

use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::{Cavity, Course, Minute, Mode, Place, Problem, Step};
use serde::{Deserialize, Serialize};

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
/// Backwards from a sink that is done last, each step is followed by what it waited for: a step before it, a place, hands,
/// a pool, or a later step for which it cannot wait any longer. Of all such chains the one is given that leads back to
/// something that cannot move: the opening, a shift, a first heat, an earliest time. If none does, the first step of the
/// chain says [`Because::Slack`].
pub fn chain(problem: &Problem, plan: &Plan) -> Chain {
    let search = Search { problem, plan };
    let served = problem.courses.iter().filter(|course| !course.sinks.is_empty());
    let mut course = served.max_by_key(|course| plan.served.get(&course.id));
    let mut then = Vec::new();
    let mut seen = BTreeSet::new();
    while let Some(own) = course {
        for sink in search.sinks(own) {
            if let Some(chain) = search.back(&Event { step: sink.to_owned(), end: true }, &mut seen) {
                then.reverse();
                return Chain { steps: search.told(chain), then };
            }
        }
        let before = own.after.as_ref().filter(|after| {
            let [earlier, later] = [&after.course, &own.id].map(|id| plan.served.get(id));
            earlier.zip(later).is_some_and(|(earlier, later)| earlier + after.min == *later)
        });
        then.push(own.id.clone());
        course = before.and_then(|after| problem.courses.iter().find(|other| other.id == after.course));
    }
    // None leads to the root of it: what holds the last sink, as far as it goes.
    let sinks = problem.courses.iter().flat_map(|course| &course.sinks).map(|sink| sink.step.as_str());
    let sink = sinks.filter(|sink| plan.steps.contains_key(*sink)).max_by_key(|sink| plan.steps[*sink].end);
    let steps = sink.map(|sink| search.told(search.as_far(&Event { step: sink.to_owned(), end: true })));
    Chain { steps: steps.unwrap_or_default(), then: Vec::new() }
}

/// The start or the end of a step.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
struct Event {
    step: String,
    end: bool,
}

/// An event, and what keeps it from being sooner; nothing where that is the start of the same step.
type Held = (Event, Option<Because>);

struct Search<'a> {
    problem: &'a Problem,
    plan: &'a Plan,
}

impl<'a> Search<'a> {
    /// The sinks of a course, the last to end first.
    fn sinks(&self, course: &'a Course) -> Vec<&'a str> {
        let ends =
            course.sinks.iter().filter_map(|sink| Some((sink.step.as_str(), self.plan.steps.get(&sink.step)?.end)));
        let mut sinks: Vec<(&str, Minute)> = ends.collect();
        sinks.sort_by_key(|&(id, end)| (std::cmp::Reverse(end), id));
        sinks.into_iter().map(|(id, _)| id).collect()
    }

    /// From an event back to something that cannot move, the last event first.
    fn back(&self, event: &Event, seen: &mut BTreeSet<Event>) -> Option<Vec<Held>> {
        if !seen.insert(event.clone()) {
            return None;
        }
        for (because, next) in self.holders(event) {
            match next {
                None if because != Some(Because::Slack) => return Some(vec![(event.clone(), because)]),
                None => {}
                Some(next) => {
                    if let Some(mut chain) = self.back(&next, seen) {
                        chain.push((event.clone(), because));
                        return Some(chain);
                    }
                }
            }
        }
        None
    }

    /// The first holder of each event in turn.
    fn as_far(&self, event: &Event) -> Vec<Held> {
        let (mut chain, mut at) = (Vec::new(), Some(event.clone()));
        while let Some(event) = at.take() {
            if chain.iter().any(|(other, _): &Held| *other == event) {
                chain.push((event, Some(Because::Slack)));
                break;
            }
            let (because, next) = self.holders(&event).into_iter().next().unwrap_or((Some(Because::Slack), None));
            chain.push((event, because));
            at = next;
        }
        chain.reverse();
        chain
    }

    /// One line for each step: what holds its start, or its end if that is what matters.
    fn told(&self, chain: Vec<Held>) -> Vec<ChainStep> {
        let mut told: Vec<ChainStep> = Vec::new();
        for (event, because) in chain {
            let Some(planned) = self.plan.steps.get(&event.step) else { continue };
            match (told.last_mut(), because) {
                (Some(last), Some(because)) if last.step == event.step => last.because = because,
                (_, None) => {}
                (_, Some(because)) => {
                    told.push(ChainStep { step: event.step, start: planned.start, end: planned.end, because });
                }
            }
        }
        told
    }

    fn step(&self, id: &str) -> Option<(&Step, &Mode, &PlannedStep)> {
        let step = self.problem.steps.iter().find(|step| step.id == id)?;
        let planned = self.plan.steps.get(id)?;
        Some((step, step.modes.get(planned.mode)?, planned))
    }

    /// What keeps an event from being sooner, and the event behind that; the likeliest first.
    fn holders(&self, event: &Event) -> Vec<(Option<Because>, Option<Event>)> {
        let Some((step, mode, planned)) = self.step(&event.step) else { return Vec::new() };
        let own = |end| Event { step: event.step.clone(), end };
        let mut holders = Vec::new();
        if event.end {
            if planned.end - planned.start == mode.min {
                holders.push((None, Some(own(false))));
            }
            // It ends when the next one starts, and could not wait for it.
            for link in self.problem.links.iter().filter(|link| link.from == event.step) {
                if let (Some(max), Some(to)) = (link.max, self.plan.steps.get(&link.to))
                    && planned.end + max == to.start
                {
                    let because = Because::Waits { step: link.to.clone() };
                    holders.push((Some(because), Some(Event { step: link.to.clone(), end: false })));
                }
            }
            return holders;
        }
        for link in self.problem.links.iter().filter(|link| link.to == event.step) {
            if self.plan.steps.get(&link.from).is_some_and(|from| from.end + link.min == planned.start) {
                let because = Because::Follows { step: link.from.clone() };
                holders.push((Some(because), Some(Event { step: link.from.clone(), end: true })));
            }
        }
        if planned.start == self.problem.opening {
            holders.push((Some(Because::Opening), None));
        }
        if step.earliest == Some(planned.start) {
            holders.push((Some(Because::Earliest), None));
        }
        self.place(step, mode, planned, &mut holders);
        self.pools(step, mode, planned, &mut holders);
        self.hands(step, mode, planned, &mut holders);
        if planned.end - planned.start == mode.max {
            holders.push((None, Some(own(true))));
        }
        holders
    }

    fn others(&self, step: &Step) -> impl Iterator<Item = (&Step, &Mode, &PlannedStep)> {
        let own = step.id.clone();
        self.problem.steps.iter().filter(move |other| other.id != own).filter_map(|other| self.step(&other.id))
    }

    fn place(
        &self,
        step: &Step,
        mode: &Mode,
        planned: &PlannedStep,
        holders: &mut Vec<(Option<Because>, Option<Event>)>,
    ) {
        let Some(id) = &mode.place else { return };
        let cavity = self.problem.places.iter().find_map(|place| match place {
            Place::Cavity(cavity) if cavity.id == *id => Some(cavity),
            _ => None,
        });
        for (other, there, before) in self.others(step).filter(|(_, there, _)| there.place == mode.place) {
            let gap = match (cavity, there.t, mode.t) {
                (Some(cavity), Some(from), Some(to)) => changeover(cavity, from, to),
                _ => 0,
            };
            if before.end + gap == planned.start || before.end == planned.start {
                let because = Because::Place { place: id.clone(), step: other.id.clone() };
                holders.push((Some(because), Some(Event { step: other.id.clone(), end: true })));
            }
        }
        if let (Some(cavity), Some(to)) = (cavity, mode.t) {
            let first = self.problem.opening + changeover(cavity, [cavity.t_open; 2], to);
            if first == planned.start {
                holders.push((Some(Because::FirstHeat { place: id.clone() }), None));
            }
        }
    }

    fn pools(
        &self,
        step: &Step,
        mode: &Mode,
        planned: &PlannedStep,
        holders: &mut Vec<(Option<Because>, Option<Event>)>,
    ) {
        for pool in mode.pools.keys() {
            let users = self.others(step).filter(|(_, other, _)| other.pools.get(pool).is_some_and(|&uses| uses > 0));
            for (other, _, _) in users.filter(|(_, _, before)| before.end == planned.start) {
                let because = Because::Pool { pool: pool.clone(), step: other.id.clone() };
                holders.push((Some(because), Some(Event { step: other.id.clone(), end: true })));
            }
        }
    }

    fn hands(
        &self,
        step: &Step,
        mode: &Mode,
        planned: &PlannedStep,
        holders: &mut Vec<(Option<Because>, Option<Event>)>,
    ) {
        let needs = |offset: Minute| planned.start + offset;
        // The minutes at which this step first asks for a hand.
        let mut begins: Vec<Minute> = mode.touches.iter().map(|touch| needs(touch[0])).collect();
        if mode.hands > 0 || mode.load > 0 {
            begins.push(planned.start);
        }
        if mode.unload > 0 && planned.end - planned.start == mode.min {
            begins.push(planned.end - mode.unload);
        }
        for begin in begins {
            if self.problem.shifts.iter().any(|shift| shift.start == begin) {
                holders.push((Some(Because::Shift), None));
            }
            for (other, _, before) in self.others(step).filter(|(_, other, before)| frees(other, before, begin)) {
                let event = Event { step: other.id.clone(), end: before.end == begin };
                holders.push((Some(Because::Hands { step: other.id.clone() }), Some(event)));
            }
        }
    }
}

/// A piece of work on this step ends at this minute.
fn frees(mode: &Mode, planned: &PlannedStep, minute: Minute) -> bool {
    let whole = mode.hands > 0 && planned.end == minute;
    let load = mode.load > 0 && planned.start + mode.load == minute;
    let unload = mode.unload > 0 && planned.end == minute;
    whole || load || unload || mode.touches.iter().any(|&[offset, length]| planned.start + offset + length == minute)
}

/// The minutes between two temperature windows of a cavity; 0 if they meet.
fn changeover(cavity: &Cavity, from: [i64; 2], to: [i64; 2]) -> Minute {
    let (degrees, rate) = match () {
        () if to[0] > from[1] => (to[0] - from[1], cavity.rise),
        () if from[0] > to[1] => (from[0] - to[1], cavity.fall),
        () => return 0,
    };
    cavity.settle + (10 * degrees + rate - 1) / rate.max(1)
}

//! What food takes up while it waits, as steps of their own.
//!
//! A link or a sink that takes from pools while the food waits becomes a step that takes from them while it runs: none of no
//! minutes, or at least one. So all engines know pools from steps alone. The steps, links and courses that are added come
//! last and have no name outside.

use std::borrow::Cow;
use std::collections::BTreeMap;

use rangewright_models::check::cost;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{After, Course, Link, Minute, Mode, Problem, Sink, Step, Wait, legal};

use crate::assignment::{Assignment, Choice};
use crate::instance::{self, Instance, Time};
use crate::outcome::Reason;

/// A problem in which nothing takes from pools but steps.
pub(crate) struct Unfolded<'p> {
    problem: Cow<'p, Problem>,
    /// For each step that was added, in order: whose food waits, and for what.
    added: Vec<(usize, Until)>,
}

/// What food waits for, by index.
#[derive(Clone, Copy)]
enum Until {
    Step(usize),
    Course(usize),
}

impl<'p> Unfolded<'p> {
    pub(crate) fn new(problem: &'p Problem) -> Self {
        let takes = |pools: &BTreeMap<String, i64>| pools.values().any(|&amount| amount > 0);
        let sinks = problem.courses.iter().flat_map(|course| &course.sinks);
        if !problem.links.iter().any(|link| takes(&link.pools)) && !sinks.into_iter().any(|sink| takes(&sink.pools)) {
            return Unfolded { problem: Cow::Borrowed(problem), added: Vec::new() };
        }
        let mut unfolding = Unfolding { problem: problem.clone(), added: Vec::new(), prefix: prefix(problem) };
        unfolding.links(problem);
        unfolding.sinks(problem);
        Unfolded { problem: Cow::Owned(unfolding.problem), added: unfolding.added }
    }

    pub(crate) fn problem(&self) -> &Problem {
        &self.problem
    }

    /// A checked plan of the problem as it was, as an assignment.
    pub(crate) fn resume(&self, original: &Problem, instance: &Instance<'_>, plan: &Plan) -> Assignment {
        let choice = |(named, step): (&Step, &instance::Step)| {
            let planned = &plan.steps[&named.id];
            // A checked plan has only legal modes.
            let mode = step.modes.iter().position(|mode| mode.source == planned.mode).unwrap_or(0);
            Choice { mode, start: planned.start as Time, end: planned.end as Time }
        };
        let mut steps: Vec<Choice> = original.steps.iter().zip(&instance.steps).map(choice).collect();
        if let Ok(cost) = cost(original, plan) {
            for &(from, until) in &self.added {
                let start = steps[from].end;
                let end = match until {
                    Until::Step(to) => steps[to].start,
                    Until::Course(course) => cost.served[&original.courses[course].id] as Time,
                };
                let end = end.max(start);
                let source = usize::from(end > start);
                let modes = &instance.steps[steps.len()].modes;
                let mode = modes.iter().position(|mode| mode.source == source).unwrap_or(0);
                steps.push(Choice { mode, start, end });
            }
        }
        let mut assignment = Assignment { steps, served: Vec::new() };
        assignment.serve_soonest(instance);
        assignment
    }

    /// Takes out of a plan what is not in the problem as it was.
    pub(crate) fn fold(&self, original: &Problem, plan: &mut Plan) {
        for step in self.problem.steps.iter().skip(original.steps.len()) {
            plan.steps.remove(&step.id);
        }
        for course in self.problem.courses.iter().skip(original.courses.len()) {
            plan.served.remove(&course.id);
        }
    }

    /// Reasons in terms of the problem as it was.
    pub(crate) fn fold_reasons(&self, original: &Problem, reasons: Vec<Reason>) -> Vec<Reason> {
        let is_known = |id: &String| original.steps.iter().any(|step| step.id == *id);
        let known = reasons.into_iter().map(|reason| match reason {
            Reason::NoMode { step } if !is_known(&step) => Reason::Exhausted,
            Reason::NoTime { steps } => Reason::NoTime { steps: steps.into_iter().filter(is_known).collect() },
            other => other,
        });
        let mut reasons: Vec<Reason> = known.collect();
        reasons.dedup();
        reasons
    }
}

/// Nothing in the problem has a name that begins like this.
fn prefix(problem: &Problem) -> String {
    let ids = || problem.steps.iter().map(|step| &step.id).chain(problem.courses.iter().map(|course| &course.id));
    let mut prefix = "~".to_owned();
    while ids().any(|id| id.starts_with(&prefix)) {
        prefix.push('~');
    }
    prefix
}

struct Unfolding {
    problem: Problem,
    added: Vec<(usize, Until)>,
    prefix: String,
}

/// No gap at all.
const AT_ONCE: (Minute, Option<Minute>) = (0, Some(0));

impl Unfolding {
    fn links(&mut self, original: &Problem) {
        let mut kept = Vec::new();
        for link in &original.links {
            let longest = link.max.unwrap_or(*legal::MINUTES.end());
            if link.pools.values().all(|&amount| amount == 0) || longest <= 0 {
                kept.push(link.clone());
                continue;
            }
            // Below zero the later step may start while the earlier one still runs: what that costs stays with the link.
            let overlaps = link.min < 0;
            let wait = if overlaps { Wait::default() } else { link.wait };
            let to = original.steps.iter().position(|step| step.id == link.to).unwrap_or(0);
            let id = self.add(original, &link.from, Until::Step(to), [link.min.max(0), longest], wait, &link.pools);
            kept.push(tie(&link.from, &id, AT_ONCE));
            kept.push(tie(&id, &link.to, if overlaps { (link.min, Some(0)) } else { AT_ONCE }));
            if overlaps {
                kept.push(Link { pools: BTreeMap::new(), ..link.clone() });
            }
        }
        self.problem.links = kept;
    }

    fn sinks(&mut self, original: &Problem) {
        for (index, course) in original.courses.iter().enumerate() {
            let takes = |sink: &&Sink| sink.pools.values().any(|&amount| amount > 0) && course.together > 0;
            let taking: Vec<&Sink> = course.sinks.iter().filter(takes).collect();
            if taking.is_empty() {
                continue;
            }
            // They are served with the course, to the minute: a course of their own that goes out with it.
            let mut with = Course {
                id: format!("{}{index}", self.prefix),
                weight: 0,
                together: 0,
                sinks: Vec::new(),
                after: Some(After { course: course.id.clone(), min: 0, max: Some(0) }),
                ..course.clone()
            };
            for sink in &taking {
                let until = Until::Course(index);
                let id = self.add(original, &sink.step, until, [0, course.together], sink.wait, &sink.pools);
                self.problem.links.push(tie(&sink.step, &id, AT_ONCE));
                with.sinks.push(Sink { step: id, wait: Wait::default(), pools: BTreeMap::new() });
            }
            self.problem.courses[index].sinks.retain(|sink| !taking.iter().any(|own| own.step == sink.step));
            self.problem.courses.push(with);
        }
    }

    /// Adds a step that waits from the end of another, and tells its id. What its minutes beyond the least cost is `wait`.
    fn add(
        &mut self,
        original: &Problem,
        from: &str,
        until: Until,
        [least, longest]: [Minute; 2],
        wait: Wait,
        pools: &BTreeMap<String, i64>,
    ) -> String {
        let id = format!("{}{}", self.prefix, self.added.len());
        let index = original.steps.iter().position(|step| step.id == from).unwrap_or(0);
        let first = least.max(1);
        let taking = Mode { pools: pools.clone(), ..Mode::at_counter(first, longest.max(first)) };
        let modes = if least == 0 {
            // The minute that tells waiting from not waiting is paid for as such.
            let soft = wait.soft.map(|soft| (soft - 1).max(0));
            let cost = if wait.soft == Some(0) { wait.rate_after } else { wait.rate };
            vec![Mode::at_counter(0, 0), Mode { cost, wait: Some(Wait { soft, ..wait }), ..taking }]
        } else {
            vec![taking]
        };
        self.problem.steps.push(Step {
            id: id.clone(),
            dish: original.steps[index].dish.clone(),
            kind: String::new(),
            earliest: None,
            latest: None,
            wait,
            modes,
        });
        self.added.push((index, until));
        id
    }
}

fn tie(from: &str, to: &str, (min, max): (Minute, Option<Minute>)) -> Link {
    Link {
        from: from.to_owned(),
        to: to.to_owned(),
        min,
        max,
        stay: false,
        wait: Wait::default(),
        pools: BTreeMap::new(),
    }
}

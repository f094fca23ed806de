//! A complete choice of modes and minutes, by indices, and what it costs.

use std::collections::BTreeMap;

use rangewright_models::plan::{Hands, Piece, Plan, PlannedStep, Status};
use rangewright_models::problem::Place;

use crate::instance::{Instance, Time};

/// One step's choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Choice {
    /// Index among the step's legal modes.
    pub(crate) mode: usize,
    pub(crate) start: Time,
    pub(crate) end: Time,
}

/// A choice for every step and a minute of serving for every course.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Assignment {
    pub(crate) steps: Vec<Choice>,
    pub(crate) served: Vec<Time>,
}

/// Who does what in an assignment, where that is more than a number of hands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Work {
    /// For each step its floating touches, by index, with the minutes after the start at which they are begun.
    pub(crate) touches: Vec<Vec<(usize, Time)>>,
    /// Each piece with its step and its cooks, by index; empty where nobody is named.
    pub(crate) hands: Vec<(usize, Piece, Vec<usize>)>,
}

impl Work {
    /// Writes it into the plan of the assignment.
    pub(crate) fn write(&self, instance: &Instance<'_>, assignment: &Assignment, plan: &mut Plan) {
        let problem = instance.problem;
        for (index, floats) in self.touches.iter().enumerate().filter(|(_, floats)| !floats.is_empty()) {
            let named = &problem.steps[index];
            let mode = instance.steps[index].modes[assignment.steps[index].mode].source;
            let mut touches: Vec<i64> = named.modes[mode].touches.iter().map(|touch| touch.at).collect();
            for &(touch, offset) in floats {
                touches[touch] = offset.into();
            }
            if let Some(planned) = plan.steps.get_mut(&named.id) {
                planned.touches = touches;
            }
        }
        let name = |&cook: &usize| problem.cooks[cook].id.clone();
        let hands = self.hands.iter().map(|(step, piece, cooks)| Hands {
            step: problem.steps[*step].id.clone(),
            piece: *piece,
            cooks: cooks.iter().map(name).collect(),
        });
        plan.hands = hands.collect();
    }
}

/// Lateness, waiting, hot minutes: compared in this order.
pub(crate) type Cost = [i64; 3];

impl Assignment {
    /// What the assignment costs; it need not be valid.
    pub(crate) fn cost(&self, instance: &Instance<'_>) -> Cost {
        [self.lateness(instance), self.waiting(instance), self.hot(instance)]
    }

    /// Serves each course at the least minute that its sinks, `serve` and `after` allow.
    pub(crate) fn serve_soonest(&mut self, instance: &Instance<'_>) {
        let ready = |course: &crate::instance::Course| {
            course.sinks.iter().map(|&sink| self.steps[sink].end).fold(course.serve, Time::max)
        };
        let mut served: Vec<Time> = instance.courses.iter().map(ready).collect();
        // A longest path over as many rounds as there are courses; a greatest gap pulls the earlier course along.
        for _ in 0..instance.courses.len() {
            for (index, course) in instance.courses.iter().enumerate() {
                let Some((earlier, min, max)) = course.after else { continue };
                served[index] = served[index].max(served[earlier] + min);
                if max != Time::MAX {
                    served[earlier] = served[earlier].max(served[index] - max);
                }
            }
        }
        self.served = served;
    }

    pub(crate) fn lateness(&self, instance: &Instance<'_>) -> i64 {
        let slips = instance.courses.iter().zip(&self.served);
        slips.map(|(course, &served)| course.weight * i64::from(served - course.serve)).sum()
    }

    pub(crate) fn waiting(&self, instance: &Instance<'_>) -> i64 {
        let mut waiting = 0;
        for link in &instance.links {
            waiting += link.wait.cost(self.steps[link.to].start - self.steps[link.from].end - link.min);
        }
        for (step, choice) in instance.steps.iter().zip(&self.steps) {
            let mode = &step.modes[choice.mode];
            waiting += mode.cost + mode.wait.cost(choice.end - choice.start - mode.min);
            if let Some((course, rate)) = step.sink {
                waiting += rate.cost(self.served[course] - choice.end);
            }
        }
        waiting
    }

    /// Hot minutes: each spell is as long as it is, and each gap counts up to `cool_off`.
    pub(crate) fn hot(&self, instance: &Instance<'_>) -> i64 {
        let mut spells: BTreeMap<usize, Vec<(Time, Time)>> = BTreeMap::new();
        for (step, choice) in instance.steps.iter().zip(&self.steps) {
            if let Some(place) = step.modes[choice.mode].place {
                spells.entry(place).or_default().push((choice.start, choice.end));
            }
        }
        let mut hot = 0;
        for (place, mut spells) in spells {
            let Place::Cavity(cavity) = &instance.problem.places[place] else { continue };
            spells.sort_unstable();
            let mut until: Option<Time> = None;
            for (start, end) in spells {
                if let Some(last) = until {
                    let gap = i64::from((start - last).max(0));
                    hot += gap.min(cavity.cool_off) + i64::from((end - start.max(last)).max(0));
                } else {
                    hot += i64::from(end - start);
                }
                until = Some(until.map_or(end, |last| last.max(end)));
            }
        }
        hot
    }

    /// The plan in the problem's own words, its costs worked out, with these bounds.
    pub(crate) fn to_plan(&self, instance: &Instance<'_>, bounds: Cost) -> Plan {
        let problem = instance.problem;
        let [lateness, waiting, hot] = self.cost(instance);
        let steps = problem.steps.iter().zip(&instance.steps).zip(&self.steps).map(|((named, step), choice)| {
            let mode = step.modes[choice.mode].source;
            (named.id.clone(), PlannedStep::new(mode, choice.start.into(), choice.end.into()))
        });
        let served =
            problem.courses.iter().zip(&self.served).map(|(course, &served)| (course.id.clone(), served.into()));
        let proved = bounds == [lateness, waiting, hot];
        Plan {
            steps: steps.collect(),
            served: served.collect(),
            hands: Vec::new(),
            lateness,
            waiting,
            hot,
            bounds,
            status: if proved { Status::Optimal } else { Status::Feasible },
            made_for: None,
        }
    }
}

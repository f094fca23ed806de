//! Can these dishes share one oven?

use std::collections::BTreeMap;

use rangewright_models::pack::{Fit, Packer, Spot};
use rangewright_models::plan::Plan;
use rangewright_models::problem::{Cavity, Link, Minute, Mode, Place, Problem, Step, Wait};
use serde::{Deserialize, Serialize};

use super::obstacle::{Obstacle, obstacles};
use super::soon::at_once;
use crate::change::{Change, changed};
use crate::probe::{Finding, Probe};
use crate::why::{Fact, without};
use crate::{Error, Limits};

/// The answer for one cavity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sharing {
    /// The cavity.
    pub place: String,
    /// Every way that works, the best first: least later, then least waiting.
    pub ways: Vec<Way>,
    /// What keeps them from standing side by side, pair by pair; empty for pairs that can.
    pub obstacles: BTreeMap<String, Vec<Obstacle>>,
    /// Every way was examined to its end. If not, a limit struck, and a way that is missing may exist all the same.
    pub complete: bool,
}

/// One way to share, with what it costs and a plan that shows it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Way {
    /// How they share.
    pub manner: Manner,
    /// The dishes come to the table this many minutes later than the slowest of them would alone.
    pub later: Minute,
    /// What waits, beyond what waits when each is made alone.
    pub extra_waiting: i64,
    /// Where each pan stands while they are together in the cavity, by step; empty when they never are.
    pub spots: BTreeMap<String, Spot>,
    /// The air temperatures that suit all of them while they are together; absent when they never are.
    pub air: Option<[i64; 2]>,
    /// A plan of these dishes alone, starting at once.
    pub plan: Plan,
}

/// How dishes share a cavity.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Manner {
    /// Side by side at a temperature that both accept.
    SideBySide,
    /// One has the cavity while the other rests or is held elsewhere.
    WhileResting,
    /// One after the other.
    InTurn,
    /// One on the day before.
    AcrossDays,
}

/// Work after which one way is given up.
const DISHES_AT_MOST: usize = 4;

/// Examines every way in which dishes can share a cavity: side by side, one while the other rests, in turn, across days.
///
/// Each way is a problem of its own with these dishes alone, wanted at once, their steps held to this cavity wherever they
/// have a mode there. Two to four dishes; with more, or with an unknown dish or cavity, there are no ways.
///
/// # Errors
/// As [`solve`](crate::solve).
pub fn can_share(problem: &Problem, dishes: &[&str], place: &str, limits: &Limits<'_>) -> Result<Sharing, Error> {
    let faults = problem.faults();
    if !faults.is_empty() {
        return Err(Error::Refused(faults));
    }
    let mut sharing = Sharing { place: place.to_owned(), ways: Vec::new(), obstacles: BTreeMap::new(), complete: true };
    let cavity = problem.places.iter().find_map(|other| match other {
        Place::Cavity(cavity) if cavity.id == place => Some(cavity),
        _ => None,
    });
    let known = dishes.iter().all(|dish| problem.dishes.iter().any(|other| other.id == *dish));
    let (Some(cavity), true, 2..=DISHES_AT_MOST) = (cavity, known, dishes.len()) else { return Ok(sharing) };
    let only = held_to(&only_dishes(problem, dishes), place);
    let mut examiner =
        Examiner { cavity, dishes, only: at_once(&only, None), probe: Probe::new(limits), later_than: 0, waits: 0 };
    for dish in dishes {
        let alone = only_dishes(&examiner.only, &[dish]);
        match examiner.probe.search(&alone, 2)? {
            Finding::Plan(plan) => {
                examiner.later_than = examiner.later_than.max(last_serving(&plan));
                examiner.waits += plan.waiting;
            }
            Finding::None => return Ok(sharing),
            Finding::Unknown => {
                sharing.complete = false;
                return Ok(sharing);
            }
        }
    }
    examiner.name_obstacles(&mut sharing);
    let orders = orders(dishes.len());
    for order in &orders {
        examiner.side_by_side(order, &mut sharing)?;
        examiner.in_turn(order, &mut sharing)?;
    }
    for first in 0..dishes.len() {
        examiner.across_days(first, &mut sharing)?;
    }
    sharing.ways.sort_by_key(|way| (way.later, way.extra_waiting, way.manner));
    // The best of each manner says it all.
    let mut seen = Vec::new();
    sharing.ways.retain(|way| {
        !seen.contains(&way.manner) && {
            seen.push(way.manner);
            true
        }
    });
    Ok(sharing)
}

struct Examiner<'a, 'l> {
    cavity: &'a Cavity,
    dishes: &'a [&'a str],
    only: Problem,
    probe: Probe<'l>,
    later_than: Minute,
    waits: i64,
}

impl Examiner<'_, '_> {
    fn name_obstacles(&self, sharing: &mut Sharing) {
        for (index, first) in self.dishes.iter().enumerate() {
            for second in &self.dishes[index + 1..] {
                let pairs = self.steps_of(first).flat_map(|a| self.steps_of(second).map(move |b| (a, b)));
                let found = pairs.map(|(a, b)| (a, b, obstacles(self.cavity, a, b)));
                if let Some((_, _, found)) = found.min_by_key(|(_, _, found)| found.len()) {
                    sharing.obstacles.insert(format!("{first} and {second}"), found);
                }
            }
        }
    }

    /// The steps of a dish that are done in the cavity.
    fn steps_of<'s>(&'s self, dish: &'s str) -> impl Iterator<Item = &'s Step> {
        let there = |mode: &Mode| mode.place.as_deref() == Some(self.cavity.id.as_str());
        self.only.steps.iter().filter(move |step| step.dish == dish && step.modes.iter().any(there))
    }

    /// The others start and end while a step of the first dish is in the cavity.
    fn side_by_side(&mut self, order: &[usize], sharing: &mut Sharing) -> Result<(), Error> {
        let hosts: Vec<Step> = self.steps_of(self.dishes[order[0]]).cloned().collect();
        for host in &hosts {
            let mut problem = self.only.clone();
            for &guest in &order[1..] {
                let guests = self.steps_of(self.dishes[guest]);
                let fitting = guests.filter(|step| obstacles(self.cavity, host, step).is_empty());
                let Some(guest) = fitting.max_by_key(|step| least(step)) else { return Ok(()) };
                let longest = host.modes.iter().map(|mode| mode.max).max().unwrap_or(0);
                problem.links.push(link(&host.id, &guest.id, -longest, Some(-least(guest))));
            }
            self.examine(&problem, sharing)?;
        }
        Ok(())
    }

    /// Each dish leaves the cavity for good before the next one comes.
    fn in_turn(&mut self, order: &[usize], sharing: &mut Sharing) -> Result<(), Error> {
        let mut problem = self.only.clone();
        for pair in order.windows(2) {
            for before in self.steps_of(self.dishes[pair[0]]) {
                for after in self.steps_of(self.dishes[pair[1]]) {
                    problem.links.push(link(&before.id, &after.id, 0, None));
                }
            }
        }
        self.examine(&problem, sharing)
    }

    /// One dish has the cavity on the day before.
    fn across_days(&mut self, first: usize, sharing: &mut Sharing) -> Result<(), Error> {
        let mut problem = changed(&self.only, &[Change::DayBefore { minutes: 480 }]);
        // The day's own opening is where the work of the day before has long ended.
        let evening = problem.shifts.first().map_or(problem.opening, |shift| shift.end);
        let own: Vec<String> = self.steps_of(self.dishes[first]).map(|step| step.id.clone()).collect();
        let opening = problem.courses.iter().map(|course| course.serve).min().unwrap_or(evening);
        for step in &mut problem.steps {
            if own.contains(&step.id) {
                step.latest = Some(step.latest.map_or(opening, |latest| latest.min(opening)));
            } else if step.dish != self.dishes[first] {
                step.earliest = Some(step.earliest.map_or(opening, |earliest| earliest.max(opening)));
            }
        }
        if !problem.faults().is_empty() {
            return Ok(());
        }
        match self.probe.search(&problem, 2)? {
            Finding::Plan(plan) => {
                let later = last_serving(&plan) - opening - (self.later_than - self.only.opening);
                sharing.ways.push(self.way(Manner::AcrossDays, later, plan));
            }
            Finding::None => {}
            Finding::Unknown => sharing.complete = false,
        }
        Ok(())
    }

    fn examine(&mut self, problem: &Problem, sharing: &mut Sharing) -> Result<(), Error> {
        if !problem.faults().is_empty() {
            return Ok(()); // The order closes a circle with the dishes' own links.
        }
        match self.probe.search(problem, 2)? {
            Finding::Plan(plan) => {
                let later = last_serving(&plan) - self.later_than;
                let manner = self.manner(&plan);
                sharing.ways.push(self.way(manner, later, plan));
            }
            Finding::None => {}
            Finding::Unknown => sharing.complete = false,
        }
        Ok(())
    }

    fn way(&self, manner: Manner, later: Minute, plan: Plan) -> Way {
        let together = self.together(&plan);
        let modes: Vec<(&Step, &Mode)> =
            together.iter().map(|step| (*step, &step.modes[plan.steps[&step.id].mode])).collect();
        let mut spots = BTreeMap::new();
        let mut air = None;
        if modes.len() > 1 {
            let windows = modes.iter().filter_map(|(_, mode)| mode.t);
            air = windows.reduce(|a, b| [a[0].max(b[0]), a[1].min(b[1])]);
            let pans: Vec<[i64; 3]> = modes.iter().filter_map(|(_, mode)| mode.pan).collect();
            let weights: Vec<i64> = modes.iter().filter_map(|(_, mode)| mode.weight).collect();
            if let Fit::Yes(found) = Packer::new().fits_cavity(self.cavity, &pans, &weights) {
                spots = modes.iter().map(|(step, _)| step.id.clone()).zip(found).collect();
            }
        }
        Way { manner, later, extra_waiting: plan.waiting - self.waits, spots, air, plan }
    }

    /// The steps in the cavity at the minute at which most dishes are in it together.
    fn together(&self, plan: &Plan) -> Vec<&Step> {
        let there = self.only.steps.iter().filter(|step| {
            let planned = &plan.steps[&step.id];
            step.modes[planned.mode].place.as_deref() == Some(self.cavity.id.as_str())
        });
        let there: Vec<&Step> = there.collect();
        let at = |minute: Minute| -> Vec<&Step> {
            let running = |step: &&Step| (plan.steps[&step.id].start..plan.steps[&step.id].end).contains(&minute);
            there.iter().copied().filter(running).collect()
        };
        let starts = there.iter().map(|step| plan.steps[&step.id].start);
        starts.map(at).max_by_key(Vec::len).unwrap_or_default()
    }

    fn manner(&self, plan: &Plan) -> Manner {
        if self.together(plan).len() > 1 {
            return Manner::SideBySide;
        }
        let runs = |step: &Step| plan.steps[&step.id].start..plan.steps[&step.id].end;
        let in_cavity =
            |step: &Step| step.modes[plan.steps[&step.id].mode].place.as_deref() == Some(self.cavity.id.as_str());
        let idle = |step: &Step| {
            let mode = &step.modes[plan.steps[&step.id].mode];
            mode.hands == 0 && !in_cavity(step)
        };
        let cooking = || self.only.steps.iter().filter(|step| in_cavity(step));
        let resting = self.only.steps.iter().filter(|step| idle(step));
        let meets = |a: &Step, b: &Step| runs(a).start < runs(b).end && runs(b).start < runs(a).end;
        let while_resting = resting.into_iter().any(|rest| cooking().any(|c| c.dish != rest.dish && meets(c, rest)));
        if while_resting { Manner::WhileResting } else { Manner::InTurn }
    }
}

fn only_dishes(problem: &Problem, dishes: &[&str]) -> Problem {
    let others = problem.dishes.iter().filter(|dish| !dishes.contains(&dish.id.as_str()));
    let mut only = without(problem, &others.map(|dish| Fact::Dish { dish: dish.id.clone() }).collect::<Vec<_>>());
    // A course without dishes would hold up the others.
    let empty: Vec<String> =
        only.courses.iter().filter(|course| course.sinks.is_empty()).map(|course| course.id.clone()).collect();
    only.courses.retain(|course| !course.sinks.is_empty());
    for course in &mut only.courses {
        course.after = course.after.take().filter(|after| !empty.contains(&after.course));
    }
    only
}

/// Steps that can be done in this cavity can be done nowhere else.
fn held_to(problem: &Problem, place: &str) -> Problem {
    let mut problem = problem.clone();
    for step in &mut problem.steps {
        if step.modes.iter().any(|mode| mode.place.as_deref() == Some(place)) {
            step.modes.retain(|mode| mode.place.as_deref() == Some(place));
        }
    }
    problem
}

fn link(from: &str, to: &str, min: Minute, max: Option<Minute>) -> Link {
    Link { from: from.to_owned(), to: to.to_owned(), min, max, stay: false, wait: Wait::default() }
}

fn least(step: &Step) -> Minute {
    step.modes.iter().map(|mode| mode.min).min().unwrap_or(0)
}

fn last_serving(plan: &Plan) -> Minute {
    plan.served.values().copied().max().unwrap_or(0)
}

/// All orders of so many things.
fn orders(count: usize) -> Vec<Vec<usize>> {
    if count == 0 {
        return vec![Vec::new()];
    }
    let shorter = orders(count - 1);
    let insert = |order: &Vec<usize>, at: usize| {
        let mut longer = order.clone();
        longer.insert(at, count - 1);
        longer
    };
    shorter.iter().flat_map(|order| (0..count).map(move |at| insert(order, at))).collect()
}

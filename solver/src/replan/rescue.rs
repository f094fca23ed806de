//! What could be done about a course that is late: each way is tried, with the order of the plan kept and by a short search.

use std::collections::BTreeSet;

use rangewright_models::caution::{carved_early, set_aside};
use rangewright_models::cook::bake::{Bake, Baking, minutes};
use rangewright_models::day::Stage;
use rangewright_models::plan::Plan;
use rangewright_models::problem::{After, Cavity, Course, Minute, Mode, Place, Step};
use serde::{Deserialize, Serialize};

use super::changes::{self, Served};
use super::rest::{Rest, Strictness};
use super::today::Today;
use super::{Pushed, push};
use crate::change::{Change, changed};
use crate::{Limits, Outcome, solve};

/// How much hotter an oven is turned, degrees C.
const HOTTER: i64 = 20;
/// What most roasts and bakes are done at, degrees C (for how their minutes change; common practice, no source).
const DONE: f64 = 70.0;
/// Work of the search for each way, and the most ways that are searched: a fair plan, in a moment.
const WORK: u64 = 400;
const SEARCHED: usize = 8;
/// A rest is never cut below this, minutes: what the usual minimum centres ask for, and a little more.
const REST: Minute = 5;

/// Something that would bring a late course forward.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Rescue {
    /// What to do.
    pub way: Way,
    /// When the courses would be served then.
    pub servings: Vec<Served>,
    /// By how much less late the courses would be, weighted as on the menu.
    pub lateness_saved: i64,
    /// What to take care of.
    pub cautions: Vec<String>,
}

/// What to do about lateness.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Way {
    /// Turn the oven up for what is in it.
    Hotter {
        /// The running step.
        step: String,
        /// To so many degrees C.
        degrees: i64,
        /// Minutes it would then still need.
        left: Minute,
    },
    /// Cut a rest short.
    SliceEarlier {
        /// The rest.
        step: String,
        /// Its least minutes then.
        minutes: Minute,
    },
    /// Go on in another oven.
    OtherOven {
        /// The running step.
        step: String,
        /// The oven.
        place: String,
    },
    /// Leave out a dish that is not ready, and everything that only goes into it.
    Without {
        /// The dish.
        dish: String,
    },
    /// Serve the course without waiting for a dish, which follows when it is ready.
    InParts {
        /// The dish.
        dish: String,
        /// When it follows.
        at: Minute,
    },
    /// One more pair of hands from now on.
    MoreHands,
}

/// Every way that saves lateness: those that keep the menu whole first, each sort with the best first.
pub(super) fn rescues(today: &Today<'_>, servings: &[Served], lateness: i64, limits: &Limits<'_>) -> Vec<Rescue> {
    let mut rescues: Vec<Rescue> = Vec::new();
    let mut searches = SEARCHED;
    for (mut way, today) in ways(today, servings) {
        let Some(Pushed { plan, whole, .. }) = attempt(&today, lateness, &mut searches, limits) else { continue };
        if plan.lateness < lateness {
            let mut servings = changes::servings(&today, &whole);
            if let (Way::InParts { at, .. }, Some(follows)) = (&mut way, servings.last()) {
                *at = follows.at;
                servings.pop();
            }
            let cautions = cautions(&way);
            rescues.push(Rescue { way, servings, lateness_saved: lateness - plan.lateness, cautions });
        }
    }
    rescues.sort_by_key(|rescue| (matches!(rescue.way, Way::Without { .. }), -rescue.lateness_saved));
    rescues
}

/// A less late plan of such a day: the one that was handed out, carried on with, or what is found in a moment.
fn attempt(today: &Today<'_>, lateness: i64, searches: &mut usize, limits: &Limits<'_>) -> Option<Pushed> {
    let tried = [Strictness::Menu, Strictness::Facts];
    let pushed = tried.into_iter().find_map(|own| push(today, &today.old, own).0);
    if *searches == 0 || pushed.as_ref().is_some_and(|own| own.plan.lateness < lateness) {
        return pushed;
    }
    *searches -= 1;
    let limits = Limits { work: Some(limits.work.map_or(WORK, |work| work.min(WORK))), start: None, ..*limits };
    let searched = tried.into_iter().find_map(|own| {
        let rest = Rest::new(today, own, &BTreeSet::new()).filter(|rest| rest.problem.faults().is_empty())?;
        let Ok(Outcome::Planned(planned)) = solve(&rest.problem, &limits) else { return None };
        let whole = rest.whole(today, &planned.plan);
        Some(Pushed { rest, plan: planned.plan, whole })
    });
    [pushed, searched].into_iter().flatten().min_by_key(|own| own.plan.lateness)
}

/// Each way, with the day as it would be.
fn ways<'a>(today: &Today<'a>, servings: &[Served]) -> Vec<(Way, Today<'a>)> {
    let mut ways = Vec::new();
    for (index, (step, stage)) in today.problem.steps.iter().zip(&today.stages).enumerate() {
        if let Stage::Running { mode, start, .. } = *stage
            && !today.interrupted.contains(&step.id)
        {
            ways.extend(hotter(today, index, &step.modes[mode], mode, start));
            ways.extend(other_ovens(today, index, step, mode));
        }
        if step.kind == "rest" && !matches!(stage, Stage::Done { .. }) {
            ways.extend(shorter(today, index, step));
        }
    }
    let late: Vec<&str> = servings.iter().filter(|own| own.late() > 0).map(|own| own.course.as_str()).collect();
    for course in today.problem.courses.iter().filter(|course| late.contains(&course.id.as_str())) {
        for sink in course.sinks.iter().filter(|_| course.sinks.len() > 1) {
            let step = today.index(&sink.step).filter(|&index| !matches!(today.stages[index], Stage::Done { .. }));
            let Some(dish) = step.map(|index| today.problem.steps[index].dish.clone()) else { continue };
            if !ways.iter().any(|(way, _)| *way == Way::Without { dish: dish.clone() }) {
                ways.push((Way::InParts { dish: dish.clone(), at: 0 }, afterwards(today, &course.id, &sink.step)));
                ways.push((Way::Without { dish: dish.clone() }, without(today, &dish)));
            }
        }
    }
    let mut helped = today.clone();
    helped.problem = changed(&today.problem, &[Change::MoreHands { hands: 1 }]);
    ways.push((Way::MoreHands, helped));
    ways
}

fn cavity<'t>(today: &'t Today<'_>, mode: &Mode) -> Option<&'t Cavity> {
    today.problem.places.iter().find_map(|place| match place {
        Place::Cavity(cavity) if mode.place.as_ref() == Some(&cavity.id) => Some(cavity),
        _ => None,
    })
}

/// Twenty degrees more, as far as the rule for other temperatures reaches.
fn hotter<'a>(today: &Today<'a>, index: usize, own: &Mode, mode: usize, start: Minute) -> Option<(Way, Today<'a>)> {
    let cavity = cavity(today, own)?;
    let ([low, high], heat) = (own.t?, own.heat?);
    let (air, now) = ((low + high) / 2, today.now());
    let degrees = air + HOTTER;
    if degrees > cavity.t_max {
        return None;
    }
    let left = (start + own.min - now) as f64;
    let known = Bake { minutes: left, oven_c: air as f64, heat, done_c: DONE };
    let heating = (10 * HOTTER / cavity.rise.max(1)).clamp(0, 60) as f64;
    let hotter = Baking { oven_c: degrees as f64, heat, trays: 1, heating_min: heating };
    let left = minutes(&known, &hotter).ok()?.minutes;
    let mut tried = today.clone();
    let changed = &mut tried.problem.steps[index].modes[mode];
    (changed.t, changed.min, changed.max) = (Some([degrees; 2]), now + left - start, now + left - start);
    tried.stages[index] = Stage::Running { mode, start, until: Some(now + left), logged: true };
    tried.air.insert(cavity.id.clone(), degrees);
    let step = today.problem.steps[index].id.clone();
    Some((Way::Hotter { step, degrees, left }, tried))
}

/// What is left of it, in each other oven that can do it.
fn other_ovens<'a>(today: &Today<'a>, index: usize, step: &Step, mode: usize) -> Vec<(Way, Today<'a>)> {
    let mut ways: Vec<(Way, Today<'a>)> = Vec::new();
    for (other, own) in step.modes.iter().enumerate() {
        let Some(place) = own.place.clone().filter(|_| cavity(today, own).is_some() && today.usable(own)) else {
            continue;
        };
        let known = Way::OtherOven { step: step.id.clone(), place };
        if own.place == step.modes[mode].place || ways.iter().any(|(way, _)| *way == known) {
            continue;
        }
        let mut tried = today.clone();
        tried.interrupt(index);
        if let Some(planned) = tried.old.steps.get_mut(&step.id) {
            planned.mode = other;
            planned.start = today.now();
        }
        ways.push((known, tried));
    }
    ways
}

/// Half of the least rest.
fn shorter<'a>(today: &Today<'a>, index: usize, step: &Step) -> Option<(Way, Today<'a>)> {
    let least = step.modes.iter().map(|mode| mode.min).min()?;
    let minutes = (least / 2).max(REST);
    if minutes >= least {
        return None;
    }
    let mut tried = today.clone();
    for mode in &mut tried.problem.steps[index].modes {
        mode.min = minutes;
    }
    Some((Way::SliceEarlier { step: step.id.clone(), minutes }, tried))
}

/// A last step that its course does not wait for: it makes a course of its own, for which nobody waits.
fn afterwards<'a>(today: &Today<'a>, course: &str, sink: &str) -> Today<'a> {
    let mut tried = today.clone();
    let mut follows = None;
    for own in tried.problem.courses.iter_mut().filter(|own| own.id == course) {
        let (apart, kept) = own.sinks.drain(..).partition(|own| own.step == sink);
        own.sinks = kept;
        follows = Some(Course {
            id: format!("{course}, afterwards"),
            weight: 0,
            max_slip: 43_200 - own.serve.clamp(0, 43_200),
            sinks: apart,
            after: Some(After { course: own.id.clone(), min: 0, max: None }),
            ..own.clone()
        });
    }
    tried.problem.courses.extend(follows);
    tried
}

fn without<'a>(today: &Today<'a>, dish: &str) -> Today<'a> {
    let mut tried = today.clone();
    tried.problem = changed(&today.problem, &[Change::DropDish { dish: dish.to_owned() }]);
    let kept = |id: &str| tried.problem.steps.iter().any(|step| step.id == id);
    let both = today.problem.steps.iter().zip(&today.stages);
    tried.stages = both.filter(|(step, _)| kept(&step.id)).map(|(_, stage)| *stage).collect();
    let mut old = Plan { steps: today.old.steps.clone(), ..today.old.clone() };
    old.steps.retain(|id, _| kept(id));
    tried.old = old;
    tried
}

/// The cautions that bite at a rescue.
fn cautions(way: &Way) -> Vec<String> {
    let [set_aside, carved_early] = [set_aside(), carved_early()];
    let cautions: &[&str] = match way {
        Way::Hotter { .. } => &[
            "The minutes are a guess: probe early and often; the thermometer decides, not the clock.",
            "A hotter oven browns the outside and carries over more: pull it some degrees sooner, and cover what darkens.",
        ],
        Way::SliceEarlier { .. } => &[&carved_early, "It loses more juice when it is cut so soon."],
        Way::OtherOven { .. } => &[
            "Moving a hot pan of fat burns: clear the way, dry cloths, two hands.",
            "Probe after the move; the thermometer decides when it is done.",
        ],
        Way::InParts { .. } => &["What is ready goes out hot or is kept hot; nothing of it stands in between."],
        Way::Without { .. } => &[&set_aside],
        Way::MoreHands => &["Show a new helper where hot fat, steam and sharp knives are before they begin."],
    };
    cautions.iter().map(|&caution| caution.to_owned()).collect()
}

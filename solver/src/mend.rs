//! When a menu breaks a limit of food safety however it is planned: the change that mends it, tried.
//!
//! A change is offered only if the limit is then kept, no other is broken by it, and a plan of the changed problem was found
//! that keeps it too.

use rangewright_models::caution::{Caution, Weight, of_plan};
use rangewright_models::hazard::broken;
use rangewright_models::labels::Labels;
use rangewright_models::problem::{Minute, Place, Problem};
use serde::{Deserialize, Serialize};

use crate::change::{Change, changed};
use crate::{Error, Limits, Outcome, solve};

/// Oven temperatures that are tried, degrees C, the coolest first.
const HOTTER: &[i64] = &[80, 100, 120, 140, 165, 180, 200];
/// The window around a dial, degrees C on either side.
const AROUND: i64 = 5;
/// Minutes by which a step is tried to end later, the fewest first.
const LATER: &[Minute] = &[30, 60, 120, 240, 480, 720, 1_440];
/// Minutes within which a later step may be done.
const FOR_HANDS: Minute = 30;
/// Work for trying one change: a fair plan, in a moment.
const WORK: u64 = 6_000;

/// A change that mends a broken limit.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "do", rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Way {
    /// A hotter oven. Its minutes stay as they are: the thermometer decides.
    Hotter {
        /// The step.
        step: String,
        /// Degrees C.
        degrees: i64,
    },
    /// A step is done later, so that its food stands for less.
    Later {
        /// The step.
        step: String,
        /// Minutes later than the menu allows.
        minutes: Minute,
    },
}

/// A broken limit, and what was tried and mends it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Mend {
    /// The limit.
    #[serde(flatten)]
    pub caution: Caution,
    /// The ids of the steps, the one where it bites first.
    pub steps: Vec<String>,
    /// The smallest change of each sort that mends it; empty if none of those tried does.
    pub ways: Vec<Way>,
}

/// Every limit that a menu breaks however it is planned, with the changes that mend it.
///
/// # Errors
/// As [`crate::solve`].
///
/// ```
/// use rangewright::{Limits, Planner, mend::{Way, mends}};
///
/// let menu = r#"(name: "Late", kitchen: (places: [Oven("oven", "44 x 38 x 34 cm"), Burners("burner", 2)]), date: "2026-11-14",
///     zone: "Europe/London", serve: "19:00", dishes: [Dish("Duck legs", [Roast(at: "120 C", takes: "2 h", pan: "30 x 25 x 10 cm")])])"#;
/// let planner = Planner::read(menu, "menu", |_| Err("none".to_owned()))?;
/// let mends = mends(planner.problem(), planner.labels(), &Limits::default())?;
/// assert_eq!(mends[0].ways, [Way::Hotter { step: "duck-legs/roast".to_owned(), degrees: 165 }]);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn mends(problem: &Problem, labels: &Labels, limits: &Limits<'_>) -> Result<Vec<Mend>, Error> {
    let all = broken(problem, labels);
    let mut mends = Vec::new();
    for (caution, steps) in &all {
        let mut ways = Vec::new();
        for sort in candidates(problem, steps) {
            for (way, tried) in sort {
                if keeps(&tried, labels, (caution, steps), all.len(), limits)? {
                    ways.push(way);
                    break;
                }
            }
        }
        mends.push(Mend { caution: caution.clone(), steps: steps.clone(), ways });
    }
    Ok(mends)
}

/// Changes of each sort, the smallest first.
fn candidates(problem: &Problem, steps: &[String]) -> Vec<Vec<(Way, Problem)>> {
    let mut sorts = Vec::new();
    let dishes: Vec<&str> =
        problem.steps.iter().filter(|step| steps.contains(&step.id)).map(|step| step.dish.as_str()).collect();
    for step in problem.steps.iter().filter(|step| steps.contains(&step.id)) {
        let at = step.modes.iter().filter_map(|mode| mode.t).map(|[low, _]| low).min();
        let hotter = HOTTER.iter().filter(|degrees| at.is_some_and(|at| **degrees > at + AROUND));
        sorts.push(hotter.filter_map(|&degrees| hotter_by(problem, &step.id, degrees)).collect());
    }
    // What ends earlier than it must may stand too long, also if another step of its dish is where that shows.
    for step in problem.steps.iter().filter(|step| dishes.contains(&step.dish.as_str()) && step.latest.is_some()) {
        let way = |&minutes: &Minute| {
            let change = Change::EndLater { step: step.id.clone(), minutes };
            let mut later = changed(problem, &[change]);
            not_sooner(&mut later, &step.id);
            (Way::Later { step: step.id.clone(), minutes }, later)
        };
        sorts.push(LATER.iter().map(way).collect());
    }
    sorts
}

/// A step that may end later is not done sooner than it must, but for the time to find hands.
fn not_sooner(problem: &mut Problem, id: &str) {
    for step in problem.steps.iter_mut().filter(|step| step.id == id) {
        let least = step.modes.iter().map(|mode| mode.min).max().unwrap_or(0);
        let soonest = step.latest.map(|latest| (latest - least - FOR_HANDS).max(0));
        step.earliest = step.earliest.max(soonest);
    }
}

/// The problem with every way of a step at such a temperature, where its oven reaches that.
fn hotter_by(problem: &Problem, id: &str, degrees: i64) -> Option<(Way, Problem)> {
    let mut tried = problem.clone();
    let step = tried.steps.iter_mut().find(|step| step.id == id)?;
    let reaches = |place: &Option<String>| {
        problem.places.iter().any(|own| match own {
            Place::Cavity(cavity) => Some(&cavity.id) == place.as_ref() && cavity.t_max >= degrees,
            _ => false,
        })
    };
    for mode in step.modes.iter_mut().filter(|mode| mode.t.is_some()) {
        if !reaches(&mode.place) {
            return None;
        }
        mode.t = Some([degrees - AROUND, degrees + AROUND]);
    }
    Some((Way::Hotter { step: id.to_owned(), degrees }, tried))
}

/// Whether the changed menu keeps the limit and breaks no new one, and a plan of it does.
fn keeps(
    tried: &Problem,
    labels: &Labels,
    (caution, steps): (&Caution, &[String]),
    before: usize,
    limits: &Limits<'_>,
) -> Result<bool, Error> {
    if !tried.faults().is_empty() {
        return Ok(false);
    }
    let same = |own: &Caution, at: &[String]| own.topic == caution.topic && at.iter().any(|step| steps.contains(step));
    let left = broken(tried, labels);
    if left.len() >= before || left.iter().any(|(own, at)| same(own, at)) {
        return Ok(false);
    }
    let limits = Limits { work: Some(limits.work.map_or(WORK, |work| work.min(WORK))), start: None, ..*limits };
    let Outcome::Planned(planned) = solve(tried, &limits)? else { return Ok(false) };
    let found = of_plan(tried, labels, &planned.plan);
    Ok(!found.iter().any(|own| own.caution.weight == Weight::Breach && same(&own.caution, &own.steps)))
}

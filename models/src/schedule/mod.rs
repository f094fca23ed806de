//! What the cooks do: everything that follows from a plan once its modes and minutes are fixed.
//!
//! [`schedule`] turns a [`Plan`] into a [`Schedule`]: which cook has which piece of hands-on work, what each dial is set to
//! and when it is turned, which rack and which burner each pan gets, when doors open, and when courses go out. It searches
//! for nothing that could change a plan; the same plan gives the same schedule to the byte. [`check`] looks at a schedule
//! with small functions of its own.
//!
//! Every sheet, chart and calendar is drawn from this one description. It speaks of ids only; names are the business of
//! whoever shows it.

mod air;
mod burners;
mod cavity;
mod check;
mod crew;
mod data;
mod dial;
mod hands;
mod heights;
mod jobs;
mod pans;
mod running;
mod shelves;
mod spots;

use crate::plan::Plan;
use crate::problem::{Place, Problem};

pub use check::{Unsound, check, check_with};
pub use crew::{Cook, Crew};
pub use data::{
    CavityDay, Door, HobDay, HobSpot, Job, Schedule, Serving, Setting, Spell, Spot, TopDay, TopSpot, Unmet, What,
};

use running::Runs;

/// Works out what the cooks do, with as many nameless cooks as the problem's shifts have hands.
///
/// The plan should be one that [`check`](crate::check::check) accepts. Of one that is not, as much is worked out as makes
/// sense: steps without a legal choice are left out, of a problem with numbers that nobody can count with everything is, and
/// [`check`] says what does not hold.
///
/// ```
/// use rangewright_models::{plan::Plan, problem::Problem, schedule};
/// let problem: Problem = serde_json::from_str(r#"{
///   "name": "porridge", "opening": 420, "shifts": [{"start": 420, "end": 480, "hands": 1}], "pools": {},
///   "places": [{"id": "hob", "kind": "hob", "count": 2, "scale": [1, 9], "min_diameter": 120, "max_diameter": 260}],
///   "dishes": [{"id": "oats", "name": "porridge"}],
///   "courses": [{"id": "breakfast", "serve": 450, "weight": 1, "max_slip": 0, "together": 5, "after": null,
///                "sinks": [{"step": "simmer", "wait": {"rate": 1, "soft": null, "rate_after": 1}}]}],
///   "steps": [{"id": "simmer", "dish": "oats", "kind": "simmer", "earliest": null, "latest": null,
///              "wait": {"rate": 0, "soft": null, "rate_after": 0},
///              "modes": [{"place": "hob", "min": 20, "max": 20, "load": 2, "unload": 1, "level": [3, 4], "diameter": 200}]}],
///   "links": []
/// }"#).expect("a problem");
/// let plan: Plan = serde_json::from_str(r#"{
///   "steps": {"simmer": {"mode": 0, "start": 430, "end": 450}}, "served": {"breakfast": 450},
///   "lateness": 0, "waiting": 0, "hot": 0, "bounds": [0, 0, 0], "status": "optimal"
/// }"#).expect("a plan");
/// let day = schedule::schedule(&problem, &plan);
/// assert_eq!(day.hobs[0].spots[0].burner, 1);
/// assert!(schedule::check(&problem, &plan, &day).is_empty());
/// ```
pub fn schedule(problem: &Problem, plan: &Plan) -> Schedule {
    schedule_with(problem, plan, &Crew::of(problem))
}

/// As [`schedule`], with cooks who have names and shifts of their own.
///
/// At each minute the crew should have as many cooks as the problem's shifts have hands. Where the problem names its cooks,
/// these are the crew, in the same order, and each does what the plan says.
pub fn schedule_with(problem: &Problem, plan: &Plan, crew: &Crew) -> Schedule {
    if problem.has_absurd_numbers() {
        let cooks = crew.cooks.iter().map(|cook| cook.name.clone()).collect();
        return Schedule { cooks, ..Schedule::default() };
    }
    let runs = Runs::new(problem, plan);
    let mut day = Schedule {
        cooks: crew.cooks.iter().map(|cook| cook.name.clone()).collect(),
        jobs: Vec::new(),
        cavities: Vec::new(),
        hobs: Vec::new(),
        tops: Vec::new(),
        servings: jobs::servings(problem, plan, &runs),
    };
    for place in &problem.places {
        let here = runs.at(place.id());
        match place {
            Place::Cavity(cavity) => day.cavities.push(cavity::day(problem, cavity, &runs, crew)),
            Place::Hob(hob) => day.hobs.push(burners::day(hob, &here)),
            Place::Top(top) => day.tops.push(pans::on_top(top, &here)),
        }
    }
    let named = !problem.cooks.is_empty() && crew.cooks.len() == problem.cooks.len();
    let planned = if named { hands::as_planned(&runs.all, problem, plan) } else { None };
    day.jobs = jobs::jobs(&runs, crew, &day, planned);
    day
}

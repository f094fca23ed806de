//! A plan that people can keep to: room after each step for what takes longer than expected.
//!
//! Ways, places, cooks and the order of everything stay as planned; only minutes move. They are a linear program
//! (`room`): its rows are what waits for what (`Order`), the longest a link or a hold may be, when food and cooks are
//! there, and how long ovens are hot. Courses are served when they were. Its objective is room after each step, worth the
//! more the more is in doubt before it (`doubt`), against waiting. Basting, stirring and probing move with their step, and
//! within it as far as they float (`touches`).
//!
//! Which of its answers is the calmest is told by playing evenings: the share of courses served within five minutes, and a
//! percent of these is worth a percent of waiting. From the best answer on, room is added after the steps that lateness comes
//! from, as long as that is worth its price. The checker judges every answer.
//!
//! That buffers belong where doubt has gathered is the idea of starting time criticality in robust project scheduling
//! (Van de Vonder, Demeulemeester and Herroelen, European Journal of Operational Research 189, 2008; named from memory).

mod doubt;
mod room;
mod touches;
mod windows;

use std::collections::BTreeMap;

use rangewright_models::check::check;
use rangewright_models::plan::{Plan, Status};
use rangewright_models::problem::{Minute, Problem};
use rangewright_models::schedule::{Crew, schedule_with};
use serde::{Deserialize, Serialize};

use crate::Error;
use crate::instance::Instance;
use crate::odds::{Dice, Ranges, Shared, odds};
use crate::order::{Event, Order, Touches, end};
use room::Room;

/// The price that is usual for the plan of a menu, percent: over all examples and the kitchens of the benches a higher one buys
/// hardly anything more (see `benches/NOTES.md`).
pub const USUAL_PRICE: u32 = 5;

/// What waiting costs against room, dear first: the first leaves it as it is.
const WEIGHTS: [i64; 7] = [1000, 100, 40, 20, 10, 5, 2];

/// What an hour of hot food costs at the usual rate: a price is a share of this at least, so that the calm of a plan with
/// hardly any waiting has a price, too.
const HOUR: i64 = 180;

/// A plan that is known already is kept if no other is worth more by this: one course in a hundred.
const SAME: i64 = 10_000;

/// The evenings by which plans are told apart: others than those that a sheet's odds come from.
const DICE: Dice = Dice { evenings: 400, seed: 7, shared: Shared::USUAL, within: 5 };
/// How often more room is given, to how many steps, and how much at a time.
const ROUNDS: usize = 8;
const TRIED: usize = 4;
const MARGINS: [Minute; 2] = [2, 5];

/// A plan with room in it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Calmed {
    /// The plan. Its bounds are those of the plan it was made from, and it is only said to be best if it still is.
    pub plan: Plan,
    /// By how much its waiting costs more than before.
    pub waiting: i64,
}

/// The same plan with its minutes moved so that there is room for what takes longer, for at most `price` percent more waiting
///,
/// counted from an hour's waiting of hot food at least, so that a plan with hardly any waiting may buy some room, too.
///
/// No course is served at another minute, and ovens are hot for at most `price` percent longer. With a price of 0 nothing
/// waits and nothing is hot for longer. A plan that could not be improved comes back as it is. `ranges` say what is in doubt:
/// see [`ranges`](crate::odds::ranges). `known` is a plan that people have already: it stays if it is within the price and no
/// other is clearly easier to keep.
///
/// # Errors
/// [`Error::Limit`] if `price` is not within 0 to 100; [`Error::Start`] names every rule that the plan breaks.
///
/// ```
/// # use rangewright::models::{plan::Plan, problem::Problem, schedule::Crew};
/// use rangewright::{calm::calm, odds::ranges};
/// // Peeling ends as the frying begins, though nothing is lost by peeling earlier.
/// let problem: Problem = serde_json::from_str(r#"{
///     "name": "chips", "opening": 0, "shifts": [{"start": 0, "end": 90, "hands": 1}], "pools": {}, "places": [],
///     "dishes": [{"id": "chips", "name": "Chips"}],
///     "courses": [{"id": "tea", "serve": 60, "weight": 1, "max_slip": 10, "together": 10, "after": null,
///         "sinks": [{"step": "fry", "wait": {"rate": 3, "soft": null, "rate_after": 3}}]}],
///     "steps": [
///         {"id": "peel", "dish": "chips", "kind": "prep", "earliest": null, "latest": null,
///          "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 20, "max": 20, "hands": 1}]},
///         {"id": "fry", "dish": "chips", "kind": "fry", "earliest": null, "latest": null,
///          "wait": {"rate": 0, "soft": null, "rate_after": 0}, "modes": [{"min": 10, "max": 10, "hands": 1}]}],
///     "links": [{"from": "peel", "to": "fry", "min": 0, "max": null,
///         "wait": {"rate": 0, "soft": null, "rate_after": 0}}]
/// }"#)?;
/// let plan: Plan = serde_json::from_str(r#"{"steps": {"peel": {"mode": 0, "start": 30, "end": 50},
///     "fry": {"mode": 0, "start": 50, "end": 60}}, "served": {"tea": 60},
///     "lateness": 0, "waiting": 0, "hot": 0, "bounds": [0, 0, 0], "status": "optimal"}"#)?;
/// let calmed = calm(&problem, &plan, &Crew::of(&problem), &ranges(&problem, &plan, 50), 0, None)?;
/// assert!(calmed.plan.steps["peel"].end < 50);
/// assert_eq!((calmed.plan.steps["fry"].start, calmed.waiting), (50, 0));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn calm(
    problem: &Problem,
    plan: &Plan,
    crew: &Crew,
    ranges: &Ranges,
    price: u32,
    known: Option<&Plan>,
) -> Result<Calmed, Error> {
    if price > 100 {
        return Err(Error::Limit { field: "price", problem: format!("{price} is not within 0 to 100") });
    }
    check(problem, plan).map_err(Error::Start)?;
    let day = schedule_with(problem, plan, crew);
    let (Some(order), Ok(instance)) = (Order::new(problem, plan, crew, &day, Touches::Pass), Instance::new(problem))
    else {
        return Ok(Calmed { plan: plan.clone(), waiting: 0 });
    };
    let [waiting, hot] = [plan.waiting.max(HOUR), plan.hot].map(|most| most * i64::from(price) / 100);
    let judge = Judge { problem, crew, ranges, before: plan, most: [waiting, hot] };
    let mut best = judge.judged(plan.clone(), BTreeMap::new())?;
    let room = Room::new(&order, &day, &instance, ranges, hot);
    let consider = |weight: i64, margins: BTreeMap<Event, Minute>, best: &mut Judged| -> Result<(), Error> {
        let next = room.plan(weight, &margins, plan).map(|next| claimed(next, plan));
        let Some(next) = next.filter(|next| judge.allows(next)) else { return Ok(()) };
        let next = judge.judged(next, margins)?;
        if next.rank() > best.rank() {
            *best = next;
        }
        Ok(())
    };
    // Room everywhere at one price, cheap to dear.
    for weight in WEIGHTS.into_iter().take(if waiting > 0 { WEIGHTS.len() } else { 1 }) {
        consider(weight, BTreeMap::new(), &mut best)?;
    }
    // Then more of it where the evenings say that lateness comes from.
    for _ in 0..ROUNDS {
        let from = best.clone();
        for event in from.risks.iter().filter_map(|step| order.index(step)).map(end).take(TRIED) {
            for minutes in MARGINS {
                let mut margins = from.margins.clone();
                *margins.entry(event).or_default() += minutes;
                consider(WEIGHTS[0], margins, &mut best)?;
            }
        }
        if best.rank() <= from.rank() {
            break;
        }
    }
    if let Some(known) = known.filter(|known| known.steps.len() == plan.steps.len() && judge.allows(known)) {
        let known = judge.judged(known.clone(), BTreeMap::new())?;
        if known.worth + SAME >= best.worth {
            best = known;
        }
    }
    let calm = claimed(best.plan, plan);
    Ok(Calmed { waiting: calm.waiting - plan.waiting, plan: calm })
}

/// The plan with the least waiting that has so many minutes of room after each of these steps, in the order it has.
pub(crate) fn with_room(problem: &Problem, plan: &Plan, crew: &Crew, room: &BTreeMap<&str, Minute>) -> Option<Plan> {
    let day = schedule_with(problem, plan, crew);
    let order = Order::new(problem, plan, crew, &day, Touches::Pass)?;
    let instance = Instance::new(problem).ok()?;
    let margins = room.iter().filter_map(|(step, minutes)| Some((end(order.index(step)?), *minutes))).collect();
    let next = Room::new(&order, &day, &instance, &Ranges::new(), 0).plan(WEIGHTS[0], &margins, plan)?;
    let next = claimed(next, plan);
    (next.lateness <= plan.lateness && check(problem, &next).is_ok()).then_some(next)
}

/// The plan with what is proved of it, given what was proved of the one it was made from.
fn claimed(plan: Plan, before: &Plan) -> Plan {
    let mut bounds = before.bounds;
    if plan.waiting > before.waiting {
        // What was proved of hot minutes holds among plans that wait no longer.
        bounds[2] = 0;
    }
    let best = bounds == [plan.lateness, plan.waiting, plan.hot];
    let status = if best { Status::Optimal } else { Status::Feasible };
    Plan { bounds, status, made_for: before.made_for.clone(), ..plan }
}

/// Tells which of two plans is easier to keep.
struct Judge<'a> {
    problem: &'a Problem,
    crew: &'a Crew,
    ranges: &'a Ranges,
    before: &'a Plan,
    /// How much more waiting and hot minutes there may be.
    most: [i64; 2],
}

/// A plan and what it is worth.
#[derive(Clone)]
struct Judged {
    plan: Plan,
    margins: BTreeMap<Event, Minute>,
    worth: i64,
    /// The steps that lateness comes from, the worst first.
    risks: Vec<String>,
}

impl Judged {
    /// Worth first; of two that are worth the same, the one that waits less.
    fn rank(&self) -> (i64, i64) {
        (self.worth, -self.plan.waiting)
    }
}

impl Judge<'_> {
    /// Whether a plan is as good as agreed.
    fn allows(&self, plan: &Plan) -> bool {
        let [waiting, hot] = self.most;
        plan.lateness <= self.before.lateness
            && plan.waiting <= self.before.waiting + waiting
            && plan.hot <= self.before.hot + hot
            && check(self.problem, plan).is_ok()
    }

    /// A percent of courses within five minutes is worth a percent of waiting.
    fn judged(&self, plan: Plan, margins: BTreeMap<Event, Minute>) -> Result<Judged, Error> {
        let odds = odds(self.problem, &plan, self.crew, self.ranges, DICE)?;
        let kept: usize = odds.courses.iter().map(|course| course.kept_within).sum();
        let share = 1_000_000 * kept as i64 / (DICE.evenings * odds.courses.len().max(1)) as i64;
        let dearer = 1_000_000 * (plan.waiting - self.before.waiting).max(0) / self.before.waiting.max(HOUR);
        let risks = odds.risks.into_iter().map(|risk| risk.step).collect();
        Ok(Judged { plan, margins, worth: share - dearer, risks })
    }
}

#[cfg(test)]
mod tests;

//! Food that stands between the cold and the hot limit: minutes that add up from the heat to the table.
//!
//! What counts is cautious and simple: every minute at the counter, on the way from one step to the next and in a place that
//! is not hot enough, of food that germs like; not what keeps cold or free, nor what is in the heat, which begins a new
//! count. Food fresh from the oven is above the limit for some of these minutes, and no credit is given for it.

use std::collections::BTreeMap;

use super::{Caution, Topic, Weight};
use crate::cook::safety::{Keeping, keeping};
use crate::labels::{Labels, Standing};
use crate::menu::{Contains, Keeps, Kind};
use crate::plan::Plan;
use crate::problem::{Minute, Mode, Problem};

/// What holds for a step of this kind. Raw, only meat, poultry and fish count; `keeps` says how the food is kept afterwards.
pub(crate) fn standing(kind: &Kind, contains: &[Contains], cooked: bool, keeps: Keeps) -> Standing {
    let raw = |food: &Contains| matches!(food, Contains::Meat | Contains::Mince | Contains::Poultry | Contains::Fish);
    let held = *kind == Kind::Hold;
    let renewed = super::heats(kind) && !held;
    let risky = |cooked: bool| if cooked { !contains.is_empty() } else { contains.iter().any(raw) };
    let cold = matches!(kind, Kind::Chill | Kind::Soak) || matches!(kind, Kind::Other(word) if word == "thaw");
    let keeping = matches!(keeps, Keeps::Cold | Keeps::Free);
    // Raw food waits in the refrigerator unless the menu says otherwise.
    let after = risky(cooked || renewed) && !keeping;
    Standing { during: risky(cooked) && !renewed && !held && !cold && keeps != Keeps::Free, after, renewed, held }
}

/// A caution for each dish whose food stands so long that it may not be kept, or not be eaten.
pub(super) fn cautions(problem: &Problem, labels: &Labels, plan: &Plan) -> Vec<(Caution, Vec<String>)> {
    let mut longest: BTreeMap<&str, (Minute, &str)> = BTreeMap::new();
    for (step, minutes) in counts(problem, labels, plan) {
        let Some(own) = problem.steps.iter().find(|own| own.id == step) else { continue };
        let known = longest.entry(&own.dish).or_insert((0, step));
        if minutes > known.0 {
            *known = (minutes, step);
        }
    }
    let said = problem.dishes.iter().filter_map(|dish| longest.get(dish.id.as_str()));
    said.filter_map(|&(minutes, step)| caution(minutes, labels).map(|caution| (caution, vec![step.to_owned()])))
        .collect()
}

fn caution(minutes: Minute, labels: &Labels) -> Option<Caution> {
    let region = labels.region;
    let (cold, hot, limit) = (region.cold_c(), region.hot_c(), region.between_minutes());
    let (weight, what) = match keeping(minutes as f64, region) {
        Keeping::UseOrChill => return None,
        Keeping::UseNow => (Weight::Caution, "eat it at once, and chill none of it"),
        Keeping::Discard => (Weight::Breach, "keep it hot, keep it cold, or throw it away"),
    };
    let text = format!(
        "It stands between {} and {} for up to {minutes} min in all; the limit is {:.0} min: {what}",
        labels.units.temperature(cold.value as i64),
        labels.units.temperature(hot.value as i64),
        limit.value
    );
    Some(Caution::new(Topic::Holding, weight, text, limit.source))
}

/// Minutes that the food of each step has stood by its end; of a last step, by the time it is served.
fn counts<'a>(problem: &'a Problem, labels: &Labels, plan: &Plan) -> Vec<(&'a str, Minute)> {
    let standing = |step: &str| labels.steps.get(step).map(|label| label.standing).unwrap_or_default();
    let mut order: Vec<_> = problem.steps.iter().filter_map(|step| Some((step, plan.steps.get(&step.id)?))).collect();
    order.sort_by_key(|(step, planned)| (planned.end, planned.start, &step.id));
    let mut by_end: BTreeMap<&str, Minute> = BTreeMap::new();
    let mut counts = Vec::new();
    for (step, planned) in order {
        let own = standing(&step.id);
        let before = problem.links.iter().filter(|link| link.to == step.id).filter_map(|link| {
            let between = (planned.start - plan.steps.get(&link.from)?.end).max(0);
            let stood = by_end.get(link.from.as_str())?;
            Some(stood + if standing(&link.from).after { between } else { 0 })
        });
        let arrived = before.max().unwrap_or(0);
        let lukewarm = own.held && step.modes.get(planned.mode).is_some_and(|mode| cool(mode, labels));
        let meanwhile = if own.during || lukewarm { planned.end - planned.start } else { 0 };
        let sinks = problem.courses.iter().filter(|course| course.sinks.iter().any(|sink| sink.step == step.id));
        let served = sinks.filter_map(|course| plan.served.get(&course.id)).max();
        let waits = served.map_or(0, |served| if own.after { (served - planned.end).max(0) } else { 0 });
        by_end.insert(&step.id, if own.renewed { 0 } else { arrived + meanwhile });
        // What it has stood when the heat begins counts as well.
        counts.push((step.id.as_str(), if own.renewed { arrived.max(waits) } else { arrived + meanwhile + waits }));
    }
    counts
}

/// Whether a place may be below the hot limit.
fn cool(mode: &Mode, labels: &Labels) -> bool {
    mode.t.is_none_or(|[low, _]| (low as f64) < labels.region.hot_c().value)
}

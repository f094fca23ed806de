//! Steps that a cooking model fills in, written out as the plain steps and ways they stand for, before anything else is
//! compiled.

mod bake;
mod batches;
mod chambers;
mod chill;
mod joint;
mod told;

pub(super) use joint::calibration;

use std::borrow::Cow;

use super::found::Found;
use super::words;
use crate::blocks::defaults;
use crate::cook::Meat;
use crate::cook::safety::Handling;
use crate::feast::Feast;
use crate::hazard::warms;
use crate::labels::Warmth;
use crate::menu::{Contains, Dish, Kind, Step};

/// What a cost is worth for every ten degrees away from the oven temperature that is liked best (common practice, no
/// source: a little paler or darker is worth a few minutes of waiting).
const DEAR: i64 = 4;

/// What so many degrees away from the best cost, at `cost` or the usual price for every ten: five degrees half of it.
fn dear(cost: Option<i64>, degrees: f64) -> i64 {
    (cost.unwrap_or(DEAR) as f64 * degrees / 10.0).round() as i64
}

/// The feast with every such step written out; the feast itself if there is none.
pub(super) fn expand<'a>(feast: &'a Feast, found: &mut Found<'_>) -> Cow<'a, Feast> {
    let calibration = joint::calibration(&feast.kitchen, found);
    let asks = |step: &Step| {
        step.joint.is_some()
            || step.accepts.is_some()
            || step.cools.is_some()
            || step.pans.is_some()
            || step.batches.is_some()
            || sized_chill(step)
    };
    if !feast.menu.dishes.iter().flat_map(|dish| &dish.steps).any(asks) {
        return Cow::Borrowed(feast);
    }
    let mut expanded = feast.clone();
    for dish in &mut expanded.menu.dishes {
        contents(dish);
        let mut written = Vec::with_capacity(dish.steps.len());
        let mut hot = false;
        for step in &dish.steps {
            let parts = match &step.joint {
                Some(joint) => {
                    let parts = joint::steps(step, joint, dish, feast, &calibration, found).into_iter();
                    let own =
                        |part| Step { piece: Some(joint.piece), cooks: step.cooks.clone(), pans: step.pans, ..part };
                    parts.map(own).collect()
                }
                None => vec![filled(step, hot, feast, found)],
            };
            hot |= parts.iter().any(|part| warms(part) != Warmth::None);
            let parts = parts.into_iter().map(|part| batches::in_turn(part, feast.menu.guests));
            let parts = parts.map(|part| batches::one_load(part, dish, feast));
            let split = parts.flat_map(|part| pans(part, dish, feast.menu.guests));
            written.extend(split);
        }
        dish.steps = written;
    }
    Cow::Owned(expanded)
}

fn sized_chill(step: &Step) -> bool {
    step.kind == Kind::Chill && step.way.pan.is_some() && step.way.weight.is_some()
}

/// A step with its other temperatures and with what the cooling model says of it.
fn filled(step: &Step, hot: bool, feast: &Feast, found: &mut Found<'_>) -> Step {
    let mut step = step.clone();
    if let Some(ways) = step.accepts.and_then(|accepts| bake::ways(&step, &accepts, feast, found)) {
        step.ways = ways;
    }
    if step.cools.is_some() || (hot && sized_chill(&step)) {
        chill::note(&mut step, feast, found);
    }
    step
}

/// One step for each of several equal pans.
fn pans(mut step: Step, dish: &Dish, guests: i64) -> Vec<Step> {
    let count = step.pans.take().unwrap_or(1).max(1);
    if count == 1 {
        return vec![step];
    }
    let title = words::title(&step, dish, &defaults(&step.kind, guests));
    let copy = |number: i64| Step {
        title: Some(format!("{title}, {number} of {count}")),
        beside: number > 1,
        id: step.id.as_ref().map(|id| if number > 1 { format!("{id}-{number}") } else { id.clone() }),
        ..step.clone()
    };
    (1..=count).map(copy).collect()
}

/// A roast says what its dish contains.
fn contents(dish: &mut Dish) {
    let joints = dish.steps.iter().filter_map(|step| step.joint.as_deref());
    let of = |meat, handling| match (meat, handling) {
        (Meat::Vegetable, _) => None,
        (Meat::Poultry, _) => Some(Contains::Poultry),
        (Meat::Fish, _) => Some(Contains::Fish),
        (_, Handling::Minced) => Some(Contains::Mince),
        _ => Some(Contains::Meat),
    };
    let found: Vec<Contains> = joints.filter_map(|joint| of(joint.piece.meat, joint.piece.handling)).collect();
    for food in found {
        if !dish.contains.contains(&food) {
            dish.contains.push(food);
        }
    }
}

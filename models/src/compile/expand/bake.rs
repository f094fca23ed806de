//! A bake or a gratin at other temperatures than the one at which its minutes are known.

use super::chambers::{chambers, temperatures, window_about};
use super::dear;
use super::told;
use crate::compile::found::Found;
use crate::cook::bake::{Bake, Baking, beside, minutes};
use crate::faults::Code;
use crate::feast::Feast;
use crate::menu::{Accepts, Interval, Step, Way};
use crate::units::{Temperature, spoken_minutes};

/// A bake is done when its middle is so hot (common practice, no source).
const DONE: Temperature = Temperature::of_celsius(90);

/// One way for each oven and temperature, the one that is known first among its equals; `None` if there is none, which is
/// noted.
pub(super) fn ways(step: &Step, accepts: &Accepts, feast: &Feast, found: &mut Found<'_>) -> Option<Vec<Way>> {
    let base = &step.way;
    let contradiction = |field, cause: &str, remedy: &str, found: &mut Found<'_>| {
        found.field(Code::Contradiction, step.origin, field, cause, remedy);
        None
    };
    let Some([low, high]) = base.temperature else {
        let remedy = "add at: \"180 C\"";
        found.field(
            Code::MissingField,
            step.origin,
            "accepts",
            "the oven temperature of the known minutes is missing",
            remedy,
        );
        return None;
    };
    let Some(takes) = base.takes.filter(|takes| takes.max == Some(takes.min)) else {
        let cause = "minutes at other temperatures follow from one known number of minutes";
        return contradiction("takes", cause, "say takes: \"50 min\"", found);
    };
    if !step.ways.is_empty() {
        return contradiction(
            "ways",
            "both accepts and ways say how else it may be done",
            "keep one of the two",
            found,
        );
    }
    let known_at = base.asked.unwrap_or(Temperature::of_celsius((low + high) / 2));
    let ovens = chambers(base, &feast.kitchen);
    let mut ways = Vec::new();
    for chamber in &ovens {
        let known = accepts.known.unwrap_or(chamber.heat);
        let bake = Bake {
            minutes: takes.min as f64,
            oven_c: known_at.celsius(),
            heat: known,
            done_c: accepts.done.unwrap_or(DONE).celsius(),
        };
        for t in temperatures(accepts.window, Some(known_at), chamber, ovens.len()) {
            let trays = u32::try_from(step.pans.unwrap_or(1)).unwrap_or(1);
            let baking = Baking { oven_c: t.celsius(), heat: chamber.heat, trays, heating_min: 0.0 };
            let slower = beside(chamber.heat, accepts.beside);
            let there = match minutes(&bake, &baking) {
                Ok(there) => there,
                Err(faults) => {
                    told::input(&faults, step.origin, found);
                    return None;
                }
            };
            let other = t.apart(known_at) > 0.0 || known != chamber.heat || trays > 1 || accepts.beside > 0;
            let notes = other.then(|| {
                let known = feast.menu.units.exactly(known_at);
                format!("Worked out from {} at {known}{}", spoken_minutes(takes.min), told::beside(accepts.beside))
            });
            let longer = |minutes: i64| (minutes as f64 * slower).round() as i64;
            let [length, late] = [longer(there.minutes.max(1)), longer(there.late_min)];
            ways.push(Way {
                takes: Some(Interval { min: length, max: Some(length) }),
                temperature: Some(window_about(t, accepts.window)),
                asked: Some(t),
                // At the very minutes that are known, what the cook says of early and late counts.
                between: other.then_some([there.early_min.clamp(1, length), late.max(length)]),
                cost: Some(dear(base.cost, t.apart(known_at))),
                notes: notes.into_iter().collect(),
                ..chamber.way(base)
            });
        }
    }
    if ways.is_empty() {
        let cause = "no oven with fan or still heat has a temperature that is accepted";
        found.field(
            Code::Unroastable,
            step.origin,
            "accepts",
            cause,
            "accept other temperatures, or leave accepts out",
        );
        return None;
    }
    Some(ways)
}

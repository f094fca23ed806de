//! What the cooling model says of a step in which hot food cools, or cold food is heated through in an oven.

use std::f64::consts::PI;

use super::told;
use crate::caution::{Caution, Topic, Weight};
use crate::compile::found::Found;
use crate::cook::chill::{Pan, Reheat, Verdict, cool, reheat};
use crate::faults::Code;
use crate::feast::Feast;
use crate::kitchen::PanSize;
use crate::menu::{Cools, Kind, PanChoice, Step, slug};
use crate::problem::Heat;
use crate::units::spoken_minutes;

/// Food that comes off the heat, degrees C (our assumption: limits count from 57 to 63 C, so it matters little).
const OFF_THE_HEAT: f64 = 90.0;
/// An empty pan weighs so much, g (common practice, no source).
const EMPTY: i64 = 1_000;
/// Food from the refrigerator, degrees C.
const COLD: f64 = 5.0;

/// Adds to a step what the model says: minutes, a limit that is broken, and what would keep it.
pub(super) fn note(step: &mut Step, feast: &Feast, found: &mut Found<'_>) {
    let cools = step.cools.unwrap_or(Cools {
        depth: None,
        cooler: crate::cook::chill::Cooler::Refrigerator,
        covered: false,
        texture: crate::cook::chill::Texture::Thick,
    });
    let Some(depth_mm) = cools.depth.map(|depth| depth as f64).or_else(|| depth(step, feast)) else {
        let remedy = "add depth: \"4 cm\", or both pan and weight";
        found.field(
            Code::MissingField,
            step.origin,
            "depth",
            "how deep the food is counts for how fast it cools",
            remedy,
        );
        return;
    };
    if step.kind == Kind::Reheat {
        return heat_through(step, &cools, depth_mm, feast, found);
    }
    let region = feast.kitchen.region;
    let pan = Pan { depth_mm, start_c: OFF_THE_HEAT, covered: cools.covered, texture: cools.texture };
    let cooling = match cool(&pan, cools.cooler, region) {
        Ok(cooling) => cooling,
        Err(faults) => return told::input(&faults, step.origin, found),
    };
    if let Some(cold) = cooling.cold_min {
        step.way.notes.push(format!(
            "{depth_mm:.0} mm deep, {}: cold after about {}; probe the middle, the last place to cool",
            cools.cooler.in_words(),
            spoken_minutes(cold.ceil() as i64)
        ));
    }
    if cooling.verdict != Verdict::Meets {
        for remedy in &cooling.remedies {
            let minutes = spoken_minutes(remedy.minutes.ceil() as i64);
            step.way.notes.push(format!("Quick enough instead: {}, cold after about {minutes}", remedy.text));
        }
    }
    step.way.cautions.extend(cooling.cautions.into_iter().filter(|caution| caution.weight != Weight::Advice));
}

/// The depth of the food in its pan, mm.
fn depth(step: &Step, feast: &Feast) -> Option<f64> {
    let size = match step.way.pan.as_ref()? {
        PanChoice::Size(size) => *size,
        PanChoice::Named(named) => {
            feast.kitchen.pans.iter().find(|pan| slug(&pan.name) == slug(&named.name)).map(|pan| pan.size)?
        }
    };
    let floor = match size {
        PanSize::Box([width, depth, _]) => width as f64 * depth as f64,
        PanSize::Round(across, _) => PI / 4.0 * (across as f64).powi(2),
    };
    let weight = (step.way.weight? - EMPTY).max(100);
    Some(Pan::depth_of(weight as f64, floor))
}

fn heat_through(step: &mut Step, cools: &Cools, depth_mm: f64, feast: &Feast, found: &mut Found<'_>) {
    // On the hob it is stirred, and there is no model.
    let (Some([low, high]), Some(takes)) = (step.way.temperature, step.way.takes) else { return };
    let heat = step.way.heats.first().copied().unwrap_or(Heat::Fan);
    let pan = Reheat { depth_mm, start_c: COLD, oven_c: (low + high) as f64 / 2.0, heat, covered: cools.covered };
    let reheating = match reheat(&pan, feast.kitchen.region) {
        Ok(reheating) => reheating,
        Err(faults) => return told::input(&faults, step.origin, found),
    };
    if let (Some(minutes), Some([early, late])) = (reheating.minutes, reheating.range_min) {
        let to = told::centre(feast.menu.units, reheating.to_c);
        let [about, early, late] = [minutes, early, late].map(|own| spoken_minutes(own.round() as i64));
        step.way
            .notes
            .push(format!("{depth_mm:.0} mm deep: {to} in the middle after about {about} ({early} to {late})"));
        if (takes.min as f64) < minutes {
            let text =
                format!("it is planned with {}, but {to} in the middle takes about {about}", spoken_minutes(takes.min));
            let source = feast.kitchen.region.reheat_c().source;
            step.way.cautions.push(Caution::new(Topic::Reheating, Weight::Breach, text, source));
        }
    }
    step.way.cautions.extend(reheating.cautions.into_iter().filter(|caution| caution.weight == Weight::Breach));
}

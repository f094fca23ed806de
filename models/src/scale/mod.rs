//! A dish made for more or for fewer than it is written for.
//!
#![doc = include_str!("rules.md")]

mod ratio;
mod said;
mod step;

use serde::{Deserialize, Serialize};

use crate::faults::Origin;
use crate::kitchen::{Kitchen, SHELF};
use crate::menu::{Dish, PanChoice, Step, slug};
use crate::units::Units;

pub use ratio::Ratio;

/// Beyond so many times more or fewer the rules guess nothing.
const MOST: f64 = 10.0;
/// As many pans and batches as a menu may say.
const PANS: i64 = 100;
const BATCHES: i64 = 50;

/// A dish as it is made, and what is other than written.
#[derive(Clone, Debug)]
pub struct Scaled {
    /// As it is made. It is written for so many now, and asks for no more scaling.
    pub dish: Dish,
    /// In the order of shopping and steps.
    pub changes: Vec<Change>,
}

/// What is other than written, in a cook's words.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Change {
    /// What is bought, or the job.
    pub what: String,
    /// As it is written: `1 pan of 6 kg`.
    pub written: String,
    /// As it is made: `5 pans of 5.3 kg`.
    pub made: String,
}

/// Why a dish cannot be made for so many.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Misfit {
    /// The dish or the step.
    pub part: Origin,
    /// What is in the way.
    pub cause: String,
    /// What to do.
    pub remedy: String,
}

/// A dish for `halves` half portions (a child eats half of one) in a kitchen, in the words of `units`.
///
/// A dish that does not say for how many it is written is made as it is written.
///
/// # Errors
/// Everything that does not fit, at once.
///
/// ```
/// use rangewright_models::kitchen::Kitchen;
/// use rangewright_models::menu::{Dish, Kind, Step};
/// use rangewright_models::{scale, units::Units};
///
/// let roots = Dish { portions: Some(10), ..Dish::new("Roots", vec![Step::new(Kind::Prep, 20)]) };
/// let scaled = scale::scale(&roots, 2 * 20, &Kitchen::default(), Units::Metric).unwrap();
/// assert_eq!(scaled.dish.steps[0].way.takes.unwrap().min, 35);
/// assert_eq!((&*scaled.changes[0].written, &*scaled.changes[0].made), ("20 min", "35 min"));
/// assert!(scale::scale(&roots, 2 * 200, &Kitchen::default(), Units::Metric).is_err());
/// ```
pub fn scale(dish: &Dish, halves: i64, kitchen: &Kitchen, units: Units) -> Result<Scaled, Vec<Misfit>> {
    let ratio = dish.portions.and_then(|written| Ratio::of_halves(halves, written.saturating_mul(2)));
    let Some((ratio, written)) = ratio.zip(dish.portions) else {
        return Ok(Scaled { dish: Dish { scale: false, ..dish.clone() }, changes: Vec::new() });
    };
    let mut scaled = Scaled { dish: Dish { scale: false, ..dish.clone() }, changes: Vec::new() };
    if ratio.is_one() {
        return Ok(scaled);
    }
    let wanted = said::portions(halves);
    if !(1.0 / MOST..=MOST).contains(&ratio.number()) {
        let cause = format!("{} is written for {written} portions, and {wanted} are wanted", dish.name);
        let remedy = format!("write it anew for so many: beyond {MOST} times more or fewer no rule holds");
        return Err(vec![Misfit { part: dish.origin, cause, remedy }]);
    }
    scaled.dish.portions = Some(halves.saturating_add(1) / 2);
    for buy in scaled.dish.buys.iter_mut().filter(|buy| !buy.amount.each) {
        let before = said::amount(&buy.amount, units);
        buy.amount.hundredths = ratio.nearest(buy.amount.hundredths).max(1);
        scaled.changes.extend(said::change(said::capital(&buy.what), before, said::amount(&buy.amount, units)));
    }
    let mut misfits = Vec::new();
    let shelves = kitchen.pools.iter().find(|(name, _)| slug(name) == slug(SHELF)).map(|(_, &count)| count);
    for step in &mut scaled.dish.steps {
        let before = step.clone();
        step::scale(step, ratio, shelves.is_some());
        scaled.changes.extend(said::steps(&before, step, units));
        let fits = fits(&before, step, &dish.steps, kitchen, shelves, written);
        misfits.extend(fits.map(|(what, up_to)| Misfit {
            part: step.origin,
            cause: format!("{} for {wanted} needs {what}", dish.name),
            remedy: format!(
                "change the dish or the kitchen, or make another dish beside it: as it is written it fits up to {up_to} portions"
            ),
        }));
    }
    if misfits.is_empty() { Ok(scaled) } else { Err(misfits) }
}

/// What a step needs that is too much, and up to how many portions it would not be.
fn fits(
    before: &Step,
    step: &Step,
    steps: &[Step],
    kitchen: &Kitchen,
    shelves: Option<i64>,
    written: i64,
) -> Option<(String, i64)> {
    let [was, pans] = [before.pans, step.pans].map(|pans| pans.unwrap_or(1).max(1));
    if pans > PANS {
        return Some((format!("{pans} pans at {:?}", said::title(step)), Ratio::up_to(written, was, PANS)));
    }
    if let Some(batches) = step.batches.filter(|&batches| batches > BATCHES) {
        let what = format!("{batches} batches at {:?}", said::title(step));
        return Some((what, Ratio::up_to(written, before.batches.unwrap_or(1).max(1), BATCHES)));
    }
    let taken = |step: &Step| step.way.uses.iter().find(|(name, _)| slug(name) == slug(SHELF)).map(|(_, &count)| count);
    if let Some((taken_now, there)) = taken(step).zip(shelves).filter(|(taken, there)| taken > there) {
        let what = format!("{taken_now} shelves of the refrigerator, and it has {there}");
        return Some((what, Ratio::up_to(written, taken(before).unwrap_or(1).max(1), there)));
    }
    let Some(PanChoice::Named(named)) = step.way.pan.as_ref().filter(|_| pans > was) else { return None };
    let same =
        |own: &Step| matches!(&own.way.pan, Some(PanChoice::Named(other)) if slug(&other.name) == slug(&named.name));
    // What stays in its pan keeps it from step to step; other pans can be used again and again.
    let stays = step.joint.is_some() || steps.iter().filter(|own| same(own)).count() > 1;
    let pan = kitchen.pans.iter().find(|pan| slug(&pan.name) == slug(&named.name))?;
    let there = pan.count.filter(|&there| stays && pans > there)?;
    Some((
        format!("{pans} of the {} at once, and the kitchen has {there}", pan.name),
        Ratio::up_to(written, was, there),
    ))
}

#[cfg(test)]
mod tests;

//! One step made for more or for fewer.

use super::Ratio;
use crate::blocks::{Defaults, Setting, defaults};
use crate::kitchen::SHELF;
use crate::menu::{Joint, Kind, Step, Way, slug};
use crate::units::Interval;

/// Work at the counter grows with this power of the food.
const HANDS_ON: f64 = 0.8;
/// So much more goes into the same pan or batch, and into one joint, hundredths.
const FULLER: i64 = 10;
const HEAVIER: i64 = 25;
/// An empty pan, g: or a quarter of the whole, if that is less.
const EMPTY: i64 = 1_000;
/// A pan that holds less than this part of what is written is done sooner.
const SCANT: f64 = 0.75;
/// No oven holds more pans than these beside a roast.
const BESIDE: i64 = 9;

/// What grows with the food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Grows {
    /// The joints.
    Joints,
    /// The batches, one after the other.
    Batches,
    /// The pans.
    Pans,
    /// The minutes of work.
    Minutes,
    /// The room it takes in the refrigerator.
    Shelves,
}

/// Changes a step to what so many times the food asks for. `counted`: the kitchen counts the shelves of its refrigerator.
pub(super) fn scale(step: &mut Step, ratio: Ratio, counted: bool) {
    let usual = defaults(&step.kind, 0);
    match grows(step, &usual) {
        Grows::Joints => joints(step, ratio),
        Grows::Batches => {
            let batches = count(step.batches, ratio, FULLER);
            step.batches = (batches > 1).then_some(batches);
        }
        Grows::Pans => pans(step, ratio),
        Grows::Minutes => minutes(step, ratio.number().powf(HANDS_ON)),
        Grows::Shelves if counted => shelves(step, &usual, ratio),
        Grows::Shelves => {}
    }
}

fn grows(step: &Step, usual: &Defaults) -> Grows {
    let first = step.ways.first().map_or_else(|| step.way.clone(), |way| way.clone().over(&step.way));
    let said = first.load.is_some() || first.unload.is_some();
    let hands = first.hands.unwrap_or(if said { 0 } else { usual.hands });
    let counter = first.places.iter().any(|named| slug(&named.name) == "counter");
    let appliance = !counter
        && (first.temperature.is_some()
            || first.level.is_some()
            || !first.places.is_empty()
            || usual.setting != Setting::Counter);
    let stands = matches!(step.kind, Kind::Chill | Kind::Soak | Kind::Prove | Kind::Rest);
    match () {
        () if step.joint.is_some() => Grows::Joints,
        () if step.batches.is_some() => Grows::Batches,
        () if step.pans.is_some() || appliance && hands == 0 || stands && first.pan.is_some() => Grows::Pans,
        () if appliance => Grows::Batches,
        () if stands || hands == 0 => Grows::Shelves,
        () => Grows::Minutes,
    }
}

/// How many there are of what there was so many.
fn count(before: Option<i64>, ratio: Ratio, more: i64) -> i64 {
    let before = before.unwrap_or(1).max(1);
    if ratio.little_more(more) { before } else { ratio.up(before) }
}

fn pans(step: &mut Step, ratio: Ratio) {
    let before = step.pans.unwrap_or(1).max(1);
    let now = count(step.pans, ratio, FULLER);
    step.pans = (now > 1).then_some(now);
    let fuller = ratio.number() * before as f64 / now as f64;
    for way in std::iter::once(&mut step.way).chain(&mut step.ways) {
        way.weight = way.weight.map(|weight| {
            let empty = EMPTY.min(weight / 4);
            empty.saturating_add(ratio.shared(weight - empty, [before, now]).max(1))
        });
    }
    if fuller < SCANT {
        let note = "There is less in each pan than it is written with: look sooner".to_owned();
        step.note = Some(step.note.take().map_or(note.clone(), |own| format!("{own}. {note}")));
    }
}

fn joints(step: &mut Step, ratio: Ratio) {
    let before = step.pans.unwrap_or(1).max(1);
    let Some(joint) = step.joint.as_deref_mut() else { return };
    let Some(weight) = joint.piece.weight else { return };
    let now = count(step.pans, ratio, HEAVIER);
    step.pans = (now > 1).then_some(now);
    let each = ratio.shared(weight, [before, now]).max(1);
    lighter(joint, each as f64 / weight as f64);
    joint.piece.weight = Some(each);
    let beside = (i64::from(joint.beside) + now - before).clamp(0, BESIDE);
    joint.beside = u32::try_from(beside).unwrap_or(0);
}

/// A joint of so many times the weight has its sides by the cube root of that.
fn lighter(joint: &mut Joint, times: f64) {
    let side = |mm: i64| ((mm as f64 * times.cbrt()).round() as i64).max(1);
    let piece = &mut joint.piece;
    piece.thickness = piece.thickness.map(side);
    piece.breadth = piece.breadth.map(side);
    piece.length = piece.length.map(side);
}

fn minutes(step: &mut Step, times: f64) {
    let longer = |minutes: i64| ((minutes as f64 * times).round() as i64).max(1);
    let all = |way: &mut Way| {
        way.takes = way.takes.map(|Interval { min, max }| Interval { min: longer(min), max: max.map(longer) });
        way.early = way.early.map(|early| (early as f64 * times).round() as i64);
        way.late = way.late.map(|late| (late as f64 * times).round() as i64);
        way.between = way.between.map(|ends| ends.map(longer));
    };
    std::iter::once(&mut step.way).chain(&mut step.ways).for_each(all);
}

fn shelves(step: &mut Step, usual: &Defaults, ratio: Ratio) {
    let own = step.way.uses.keys().find(|name| slug(name) == slug(SHELF)).cloned();
    let before = own.as_ref().and_then(|name| step.way.uses.get(name).copied()).or(usual.shelf.then_some(1));
    let Some(before) = before else { return };
    let now = ratio.up(before);
    match own {
        Some(name) if now == 1 && usual.shelf => drop(step.way.uses.remove(&name)),
        Some(name) => drop(step.way.uses.insert(name, now)),
        None if now > 1 => drop(step.way.uses.insert(SHELF.to_owned(), now)),
        None => {}
    }
}

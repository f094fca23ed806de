//! Dishes that are made for those who eat of them, and not as they are written.

use std::borrow::Cow;

use super::found::Found;
use super::groups;
use crate::faults::{Code, Fault};
use crate::feast::Feast;
use crate::labels::ScaledLabel;
use crate::larder::eaters;
use crate::menu::{Dish, Menu};
use crate::scale;

/// More or fewer eat of a dish than this times what it is written for, hundredths: then it hardly fits (common practice, no
/// source).
const MORE: i64 = 110;
const FEWER: i64 = 75;

/// The feast with every such dish as it is made, and what is other than written, by dish; the feast itself if there is none.
pub(super) fn scaled<'a>(feast: &'a Feast, found: &mut Found<'_>) -> (Cow<'a, Feast>, Vec<Option<ScaledLabel>>) {
    let menu = &feast.menu;
    if !menu.dishes.iter().any(|dish| dish.scale) {
        return (Cow::Borrowed(feast), vec![None; menu.dishes.len()]);
    }
    let mut made = feast.clone();
    let mut said = Vec::new();
    for dish in &mut made.menu.dishes {
        let halves = halves(menu, dish);
        let label = |changes| {
            let written = dish.portions?;
            (halves > 0 && halves != 2 * written).then_some(ScaledLabel { written, made: halves, changes })
        };
        if dish.scale && dish.portions.is_none() {
            let remedy = "say for how many it is written: portions: 8";
            found.field(Code::MissingField, dish.origin, "scale", "nobody knows for how many it is written", remedy);
        }
        match scale::scale(dish, halves, &feast.kitchen, menu.units) {
            _ if !dish.scale => said.push(None),
            Ok(scaled) => {
                said.push(label(scaled.changes));
                *dish = scaled.dish;
            }
            Err(misfits) => {
                for misfit in misfits {
                    found.add(Code::DoesNotScale, misfit.part, misfit.cause, misfit.remedy);
                }
                said.push(None);
            }
        }
    }
    (Cow::Owned(made), said)
}

/// Half portions of a dish: a child eats half of one.
fn halves(menu: &Menu, dish: &Dish) -> i64 {
    let (eaters, children) = eaters(menu, dish);
    eaters.saturating_mul(2).saturating_sub(children)
}

/// Dishes that say for how many they are written, are made as they are written, and do not fit those who eat of them.
pub(super) fn misfits(feast: &Feast, found: &mut Found<'_>) {
    for dish in feast.menu.dishes.iter().filter(|dish| !dish.scale) {
        let Some(written) = dish.portions else { continue };
        let halves = halves(&feast.menu, dish);
        let hundredths = halves.saturating_mul(50);
        if halves == 0 || (written.saturating_mul(FEWER)..=written.saturating_mul(MORE)).contains(&hundredths) {
            continue;
        }
        let half = if halves % 2 == 0 { "" } else { " and a half" };
        let cause =
            format!("{} is written for {written} portions, and {}{half} are eaten of it", dish.name, halves / 2);
        let remedy = "say scale: true to have it made for them, or change it and say portions anew";
        found.field(Code::OtherPortions, dish.origin, "portions", cause, remedy);
    }
}

/// What is doubtful about the feast as it is made; nothing is said of dishes that cannot be made.
pub(super) fn as_made(feast: &Feast) -> Feast {
    let mut found = Found::new(&feast.sources);
    let grouped = groups::expand(feast, &mut found);
    let (made, _) = scaled(&grouped, &mut found);
    let _: Vec<Fault> = found.faults;
    made.into_owned()
}

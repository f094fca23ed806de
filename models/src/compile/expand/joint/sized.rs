//! How much meat there is: as said, or sized for the guests.

use super::Work;
use crate::cook::portions::{Appetite, Guests, MainDish, main_dish};
use crate::cook::{Cut, Meat};
use crate::menu::{Contains, Dish, slug};

impl Work<'_> {
    /// The weight as bought, said or from the guests; and the words for the latter.
    pub(super) fn weight(&self) -> (Option<i64>, Option<String>) {
        let piece = &self.joint.piece;
        if piece.weight.is_some() || (piece.thickness.is_some() && piece.length.is_some()) {
            return (piece.weight, None);
        }
        let bought = match (piece.cut, piece.meat, piece.bone) {
            (Cut::Cylinder | Cut::Slab | Cut::Ball | Cut::Brick, ..) | (_, Meat::Fish | Meat::Vegetable, _) => {
                return (None, None);
            }
            (Cut::Bird | Cut::Duck, ..) => MainDish::Turkey,
            (Cut::Fillet, ..) => MainDish::Fillet,
            (Cut::Rib, _, true) => MainDish::RibOnBone,
            (_, Meat::Pork, true) => MainDish::HamOnBone,
            (_, _, true) => MainDish::LegOnBone,
            _ => MainDish::BonelessRoast,
        };
        let menu = &self.feast.menu;
        let course = |dish: &Dish| dish.course.as_ref().map(|named| slug(&named.name));
        let beside = menu.dishes.iter().filter(|other| course(other) == course(self.dish));
        let main = |dish: &Dish| {
            let meaty =
                |food: &Contains| matches!(food, Contains::Meat | Contains::Mince | Contains::Poultry | Contains::Fish);
            dish.contains.iter().any(meaty) || dish.steps.iter().any(|step| step.joint.is_some())
        };
        let mains = beside.filter(|dish| main(dish)).count().clamp(1, 5);
        let count = |number: i64| u32::try_from(number).unwrap_or(0).min(1_000);
        let (eaters, children) = crate::larder::eaters(menu, self.dish);
        let guests = Guests {
            adults: count(eaters - children),
            children: count(children),
            appetite: Appetite::Usual,
            mains: mains as u32,
            sides: 0,
            leftovers: false,
        };
        let Ok(amount) = main_dish(&guests, bought) else { return (None, None) };
        let grams = ((amount.grams / 100.0).ceil() as i64 * 100).max(100);
        let [low, high] = amount.range_g.map(|g| g / 1000.0);
        let sized = format!(
            "{:.1} kg as bought for {} guests, from {low:.1} kg for a modest to {high:.1} kg for a generous table ({})",
            grams as f64 / 1000.0,
            eaters,
            amount.source.cited()
        );
        (Some(grams), Some(sized))
    }
}

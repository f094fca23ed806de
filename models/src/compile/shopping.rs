//! What is to be bought for the whole table.

use crate::labels::Bought;
use crate::larder::eaters;
use crate::menu::{Menu, slug};

/// Everything that dishes buy, scaled to the guests and added up, in the order in which the menu first speaks of it.
pub(super) fn shopping(menu: &Menu, dish_ids: &[String]) -> Vec<Bought> {
    let mut list: Vec<Bought> = Vec::new();
    for (dish, id) in menu.dishes.iter().zip(dish_ids) {
        let (guests, children) = eaters(menu, dish);
        for buy in &dish.buys {
            let hundredths = buy.amount.at_table(guests, children);
            let same = |own: &&mut Bought| slug(&own.what) == slug(&buy.what) && own.measure == buy.amount.measure;
            if let Some(own) = list.iter_mut().find(same) {
                own.hundredths = own.hundredths.saturating_add(hundredths);
                if !own.dishes.contains(id) {
                    own.dishes.push(id.clone());
                }
            } else {
                let (what, measure) = (buy.what.clone(), buy.amount.measure.clone());
                list.push(Bought { what, hundredths, measure, dishes: vec![id.clone()] });
            }
        }
    }
    list
}

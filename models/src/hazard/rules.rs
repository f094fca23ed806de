//! Whose limits hold: the region, a household or a licensed kitchen, and how warm its room and its refrigerator are.

use serde::Serialize;

use crate::cook::Source;
use crate::cook::safety::{Limit, Premises, Region};

/// The rules a plan is judged by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
pub struct Rules {
    /// Whose limits.
    pub region: Region,
    /// The kitchen they are kept in.
    pub premises: Premises,
}

impl Rules {
    /// At or below this, food keeps cold, degrees C.
    pub fn cold_c(&self) -> f64 {
        self.region.cold_c().value
    }

    /// At or above this, food keeps hot, degrees C.
    pub fn hot_c(&self) -> f64 {
        self.region.hot_c().value
    }

    /// The most minutes that food which germs like may stand between the cold and the hot limit in all.
    pub fn standing(&self) -> Limit {
        self.region.standing(self.premises.licensed, self.premises.room_c)
    }

    /// Where the cold and the hot limit come from.
    pub fn holding(&self) -> Source {
        self.region.hot_c().source
    }
}

//! A feast: a menu and the kitchen it is cooked in, as plain data.

use crate::faults::Sources;
use crate::kitchen::Kitchen;
use crate::menu::Menu;

pub use crate::calendar::{Calendar, Clock, ClockError};
pub use crate::units::Units;

/// A menu and the kitchen it is cooked in: what the front door plans.
///
/// [`read::feast`](crate::read::feast) reads one from text; it may as well be built in code. Quantities are in the units of
/// the [`problem`](crate::problem): minutes, millimetres, grams and degrees Celsius.
///
/// ```
/// use rangewright_models::compile::compile;
/// use rangewright_models::feast::{Clock, Feast};
/// use rangewright_models::kitchen::{Appliance, ApplianceKind, BurnersSpec};
/// use rangewright_models::menu::{Course, Dish, Kind, Step};
///
/// let mut feast = Feast::default();
/// feast.kitchen.places.push(Appliance {
///     name: "camp stove".to_owned(),
///     kind: ApplianceKind::Burners(BurnersSpec { count: 1, dial: [1, 6], pans: [120, 260] }),
///     draws: Default::default(),
///     origin: Default::default(),
/// });
/// feast.menu.date = "2026-11-08".parse()?;
/// feast.menu.zone = "Europe/London".to_owned();
/// feast.menu.courses.push(Course::new("supper", Clock { day: 0, minute: 19 * 60 }));
/// feast.menu.dishes.push(Dish::new("Barley", vec![Step::new(Kind::Simmer, 40), Step::new(Kind::Plate, 5)]));
///
/// let compiled = compile(&feast)?;
/// assert_eq!(compiled.labels.steps["barley/simmer"].title, "Simmer the barley");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, Default)]
pub struct Feast {
    /// Appliances, pans and cooks.
    pub kitchen: Kitchen,
    /// Guests, courses and dishes.
    pub menu: Menu,
    /// Where its parts were written; empty for data built in code.
    pub sources: Sources,
}

//! Cautions: where food or heat can hurt somebody, what to do, and who says so.
//!
//! A step carries the cautions that apply to it wherever it is done, a mode those of that way, and a plan adds what follows
//! from what is done beside what. Limits differ from place to place: the kitchen says which
//! [`Region`](crate::cook::safety::Region) it lies in. None of this replaces a food code: [`DEFERENCE`] goes with every plan.

mod apply;
mod late;
mod plan;
mod usual;

pub(crate) use apply::{Nature, of};
pub use late::{carved_early, set_aside};
pub use plan::{PlanCaution, of_plan};
pub use usual::usual;

pub use crate::cook::safety::{Caution, DEFERENCE, Topic, Weight};

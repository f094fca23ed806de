//! Cautions: where food or heat can hurt somebody, what to do, and who says so.
//!
//! A step carries the cautions that apply to it wherever it is done, a mode those of that way, and a plan adds what follows
//! from what is done beside what. Limits differ from place to place: the kitchen says which
//! [`Region`](crate::cook::safety::Region) it lies in. None of this replaces a food code: [`DEFERENCE`] goes with every plan.

mod after;
mod apply;
mod late;
mod plan;
mod shown;
mod usual;
mod washing;

pub use after::{Afterwards, afterwards};
pub(crate) use apply::{Nature, of};
pub use late::{carved_early, set_aside};
pub use plan::{PlanCaution, of_plan};
pub use shown::{AT_A_STEP, AtStep, JOBS_A_LINE, at_steps};
pub use usual::usual;
pub use washing::add_washing;

pub use crate::cook::safety::{Caution, DEFERENCE, Topic, Weight};

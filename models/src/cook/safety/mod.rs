//! Limits of food safety, and the cautions that go with a plan.
//!
//! Each limit carries its source and how it is known. None of this replaces a food code: [`DEFERENCE`] goes with every
//! caution that is shown.

mod caution;
mod exposure;
mod lethality;
mod low_oven;
mod minimum;
mod region;
mod roast;
mod topic;

pub use caution::{Caution, DEFERENCE, Weight};
pub(crate) use caution::{assumed, both, both_ends, memory, practice, read};
pub use exposure::{Keeping, keeping, minutes_between};
pub use lethality::{APPENDIX_A, Reduction, credited_logs, hold_seconds, table_applies};
pub use low_oven::{CONSUMER_C, SURFACE_MINUTES, food_code_c, low_oven, slow_surface};
pub use minimum::{Handling, Minimum, carry_over_counts, minimum};
pub use region::{CoolingStage, Limit, Premises, Region};
pub(super) use roast::{Core, roast, way};
pub use topic::Topic;

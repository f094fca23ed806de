//! Why there is no plan: a smallest set of demands that cannot all be met.

mod fact;
mod filter;
mod without;

pub use fact::Fact;
pub use filter::{Explanation, Verdict, why_not};
pub(crate) use without::LAST_MINUTE;
pub use without::without;

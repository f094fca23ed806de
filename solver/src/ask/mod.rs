//! Questions about a feast, each answered by the solver: how soon, why this way, can they share.

mod alternative;
mod chain;

mod obstacle;
mod share;
mod soon;

pub use alternative::{Alternative, Difference, Force, why_this_way};
pub use chain::{Because, ChainStep, chain};
pub use obstacle::{Obstacle, obstacles};
pub use share::{Manner, Sharing, Way, can_share};

pub use soon::{Soonest, how_soon};

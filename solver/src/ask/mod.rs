//! Questions about a feast, each answered by the solver: how soon, why this way, can they share.

mod alternative;
mod beside;
mod chain;
mod share;
mod soon;

pub use alternative::{Alternative, Difference, Force, why_this_way};
pub use beside::beside;
pub use chain::{Because, Chain, ChainStep, chain};
pub use share::{
    Clash, Crowd, DISHES_AT_MOST, Hindrance, Manner, Not, Obstacle, Sharing, Visit, Way, can_share, can_share_anywhere,
    obstacles, sharing_problem,
};
pub use soon::{HowSoon, Soonest, at_once, how_soon};

//! What a feast, a kitchen and a plan mean.
//!
//! This crate holds the data, the checks of meaning, the cooking models and the independent checker of plans. It searches
//! for nothing and does no input or output.

pub mod check;
pub mod plan;
pub mod problem;

//! What a feast, a kitchen and a plan mean.
//!
//! This crate holds the data, the checks of meaning, the cooking models and the independent checker of plans. It searches
//! for nothing and does no input or output.

pub mod blocks;
pub mod calendar;
pub mod caution;
pub mod check;
pub mod compile;
pub mod cook;
pub mod day;
pub mod examples;
pub mod faults;
pub mod feast;
pub mod hazard;
pub mod kitchen;
pub mod labels;
pub mod larder;
pub mod menu;
pub mod oven;
pub mod pack;
pub mod plan;
pub mod problem;
pub mod read;
pub mod scale;
pub mod schedule;
pub mod units;
pub mod write;

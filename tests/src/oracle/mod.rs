//! Answers by brute force, sharing no code with the product beyond its plain data.

mod hands;
pub mod packing;
mod plans;

pub use plans::{Best, Verdict, enumerate};

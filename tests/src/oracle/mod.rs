//! Answers by brute force, sharing no code with the product beyond its plain data.

pub mod packing;

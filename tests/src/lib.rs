//! What the whole-product tests share: oracles, generators of random problems, and test data.

pub mod command;
pub mod data;
pub mod evening;
pub mod oracle;
pub mod random;

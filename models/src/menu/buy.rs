//! What is bought for a dish.

use crate::units::Amount;

/// Something to buy for a dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Buy {
    /// What it is, in the cook's words.
    pub what: String,
    /// How much of it.
    pub amount: Amount,
}

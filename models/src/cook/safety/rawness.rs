//! Raw poultry, and what is eaten raw: the two that must not meet.

use serde::Serialize;

/// What a dish is while it is worked on.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Rawness {
    /// Raw poultry: may carry germs to other food.
    RawPoultry,
    /// Eaten as it is: no heat comes after.
    EatenRaw,
    /// Neither.
    #[default]
    Other,
}

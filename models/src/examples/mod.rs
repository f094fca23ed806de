//! The examples that are shipped with the library.

/// An example: the texts of a menu and of its kitchen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Example {
    /// Its short name.
    pub name: &'static str,
    /// What it shows.
    pub shows: &'static str,
    /// The menu in RON.
    pub menu: &'static str,
    /// The kitchen in RON.
    pub kitchen: &'static str,
}

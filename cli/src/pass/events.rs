//! What can be logged, as data: a page makes its buttons from it.

use serde::Serialize;

/// A sort of event.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Event {
    /// Its word.
    pub(crate) event: String,
    /// What it says, in a sentence.
    pub(crate) about: String,
    /// What has to be said with it, in this order.
    pub(crate) fields: Vec<Field>,
}

/// Something said with an event.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Field {
    /// `step`, `place`, `dish`, `course`, `cook`, or what is measured.
    pub(crate) name: String,
    /// What it is, in a sentence.
    pub(crate) about: String,
    /// The option it is said with; without one it stands by itself.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) option: Option<String>,
    /// It must be said.
    pub(crate) needed: bool,
}

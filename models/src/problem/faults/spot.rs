//! Where a fault is, put into words only once there is one.

use std::fmt;

/// A place in the JSON form.
#[derive(Clone, Copy)]
pub(super) struct Spot<'a> {
    list: &'static str,
    index: Option<usize>,
    id: Option<&'a str>,
    inner: Option<(&'static str, usize)>,
    field: &'a str,
}

impl<'a> Spot<'a> {
    /// A field of the problem itself.
    pub(super) fn top(field: &'static str) -> Self {
        Spot { list: field, index: None, id: None, inner: None, field: "" }
    }

    /// An entry of a list whose entries have no id.
    pub(super) fn entry(list: &'static str, index: usize) -> Self {
        Spot { list, index: Some(index), id: None, inner: None, field: "" }
    }

    /// An entry with an id.
    pub(super) fn named(list: &'static str, index: usize, id: &'a str) -> Self {
        Spot { list, index: Some(index), id: Some(id), inner: None, field: "" }
    }

    /// An entry of a map.
    pub(super) fn key(map: &'static str, id: &'a str) -> Self {
        Spot { list: map, index: None, id: Some(id), inner: None, field: "" }
    }

    /// An entry of a list within this one.
    pub(super) fn inner(self, list: &'static str, index: usize) -> Self {
        Spot { inner: Some((list, index)), ..self }
    }

    /// A field of this one.
    pub(super) fn field(self, field: &'a str) -> Self {
        Spot { field, ..self }
    }
}

impl fmt::Display for Spot<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.list)?;
        if let Some(index) = self.index {
            write!(f, "[{index}]")?;
        }
        if let Some(id) = self.id {
            write!(f, " {id:?}")?;
        }
        if let Some((list, index)) = self.inner {
            write!(f, " {list}[{index}]")?;
        }
        if !self.field.is_empty() {
            write!(f, " {}", self.field)?;
        }
        Ok(())
    }
}

//! What a compilation finds wrong.

use crate::faults::{Code, Fault, Origin, Sources};

pub(super) struct Found<'a> {
    sources: &'a Sources,
    pub(super) faults: Vec<Fault>,
}

impl<'a> Found<'a> {
    pub(super) fn new(sources: &'a Sources) -> Self {
        Found { sources, faults: Vec::new() }
    }

    /// A fault of something that was written at `origin`.
    pub(super) fn add(&mut self, code: Code, origin: Origin, cause: impl Into<String>, remedy: impl Into<String>) {
        self.faults.push(self.sources.fault(code, origin, cause, remedy));
    }

    /// A fault of one field of a part.
    pub(super) fn field(
        &mut self,
        code: Code,
        part: Origin,
        field: &'static str,
        cause: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        self.add(code, self.sources.field(part, field), cause, remedy);
    }
}

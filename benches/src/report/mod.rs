//! Our results beside CP-SAT's and beside values known from elsewhere, as one page.
//!
//! Families of instances are measured one after the other, first ours, then CP-SAT's, in the same run on the same machine.
//! What was measured is kept as CSV, so that the page can be written again without measuring again.

mod compare;
mod figures;
mod machine;
mod measure;
mod page;
mod raw;
mod reference;

pub use measure::{Settings, measure};
pub use page::write;
pub use raw::Raw;
pub use reference::References;

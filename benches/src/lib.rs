//! Benchmarks of Rangewright: criterion benches, and runners over folders of instances.
//!
//! - `yardstick` solves every instance below a folder and writes a line for each.
//! - `translate` writes published instances as problems in the project's own JSON form.
//! - `answers` writes problems with our answers, for another solver to check.
//! - `report` measures ours beside CP-SAT and writes `REPORT.md`.
//! - `evenings` plays whole evenings and says what logging brought.
//! - `verify` checks plans, whoever made them.

pub mod answers;
pub mod evenings;
pub mod formats;
pub mod instances;
pub mod memory;
pub mod random;
pub mod report;
pub mod yard;

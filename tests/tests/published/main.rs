//! Scheduling instances from the literature with known answers.

mod instances;

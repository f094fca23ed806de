//! The day as it really goes: what is logged, and where that leaves each step.
//!
//! A log is a file of JSON lines, one [`Entry`] each, to which lines are only ever added. [`read`] takes a log that was cut
//! off in mid-write, and [`line()`] makes the bytes that may safely follow it. [`fold`] turns entries and the plan that was
//! handed out into a [`Day`]: what is done, what runs, and what is still to come, at one minute.
//!
//! Silence means that things went as planned: a step whose time has passed and of which nothing is logged is taken to have
//! been done at its time, as long as everything before it was. So cooks need to log only what differs.

mod entry;
mod fault;
mod fold;
mod follow;
mod legal;
mod log;
mod probe;
mod progress;
mod roast;
mod silence;
mod state;

pub use entry::{Entry, Event};
pub use fault::{DayFault, Untrue};
pub use fold::{fold, fold_with};
pub use log::{Log, LogFault, line, read};
pub use probe::{Left, Reading, left};
pub use state::{Breakdown, Day, Latecomers, Stage};

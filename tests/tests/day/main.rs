//! The day itself: odds, the log, re-planning.

mod day_log;
mod evenings;
mod odds;
mod pass;
mod replan;
mod roasts;

//! What cooks write, and what is wrong with it.

mod batches;
mod book;
mod examples;
mod faults;
mod groups;
mod language;
mod schemas;
mod temperatures;
mod waits;

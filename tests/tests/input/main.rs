//! What cooks write, and what is wrong with it.

mod batches;
mod book;
mod examples;
mod faults;
mod language;
mod temperatures;
mod waits;

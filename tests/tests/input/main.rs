//! What cooks write, and what is wrong with it.

mod faults;
mod language;
mod temperatures;

//! How much to buy, and how many pans it takes.

mod amounts;
mod pans;

pub use amounts::{Amount, Appetite, Guests, MainDish, Side, main_dish, raw_for_served, side};
pub use pans::{Shelves, Split, Vessel, split};

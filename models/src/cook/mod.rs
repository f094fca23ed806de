//! Cooking models: what heat does to food, what is safe, and how much there must be.
//!
//! Pure functions from plain data to plain data. Lengths in mm, weights in g, temperatures in degrees C and times in minutes
//! at every public surface, SI units inside [`heat`]. Every figure says how it is known ([`Known`]). The thermometer
//! decides: no function gives a bare number of minutes without its range.

pub mod air;
pub mod bake;
mod calibrate;
mod carry_over;
pub mod chill;
mod cut;
mod fault;
pub mod fitted;
pub mod food;
pub mod heat;
mod known;
mod piece;
pub mod portions;
pub mod roast;
pub mod safety;
pub mod thaw;

pub use calibrate::{Calibration, PastRoast, calibrate};
pub use carry_over::{CarryOver, Cover};
pub use cut::{Cut, Meat, Solid, composition};
pub use fault::Fault;
pub use known::{Known, Source};
pub use piece::{Piece, Start};

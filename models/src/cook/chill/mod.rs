//! Cooling and reheating a pan or a pot of food.
//!
//! Food stands as a layer of its depth, heated or cooled from below and above; its sides are left out, which is on the safe
//! side. Thick food conducts, thin food mixes itself. Surface coefficients are set so that the layer table computed for
//! this purpose is met (cooling_model.csv, recomputed), but an ice bath that nobody stirs is taken at 40 W/m2K, because the
//! published trial of chili failed in one; freezing is not modelled.

mod cooling;
mod reheat;

pub use cooling::{Cooler, Cooling, Pan, Remedy, StageTime, Texture, Verdict, cool};
pub use reheat::{Reheat, Reheating, reheat};

//! The legal ranges of numbers in a problem. Anything outside is absurd and refused, so that later sums cannot overflow.

use std::ops::RangeInclusive;

/// Minutes of a plan and lengths of time: 30 days.
pub const MINUTES: RangeInclusive<i64> = 0..=43_200;
/// Gaps of links.
pub const GAP: RangeInclusive<i64> = -43_200..=43_200;
/// Temperatures, degrees C.
pub const DEGREES: RangeInclusive<i64> = -40..=600;
/// Lengths, mm.
pub const LENGTH: RangeInclusive<i64> = 1..=5_000;
/// The clearance of racks and the least diameter of a hob, mm.
pub const LENGTH_OR_NONE: RangeInclusive<i64> = 0..=5_000;
/// Weights, g.
pub const WEIGHT: RangeInclusive<i64> = 1..=1_000_000;
/// Rates of rise and fall, degrees per ten minutes.
pub const RATE_OF_HEAT: RangeInclusive<i64> = 1..=10_000;
/// Racks of a cavity.
pub const RACKS: RangeInclusive<i64> = 1..=20;
/// Burners, hands.
pub const COUNT: RangeInclusive<i64> = 0..=1_000;
/// Capacities of pools and what is taken of them.
pub const POOL: RangeInclusive<i64> = 0..=1_000_000;
/// Rates of waiting, weights of courses and costs of modes.
pub const COST: RangeInclusive<i64> = 0..=1_000_000;
/// Heat levels of a hob or a top. The model names no range for them; a dial may as well be marked in watts.
pub const LEVEL: RangeInclusive<i64> = 0..=1_000_000;

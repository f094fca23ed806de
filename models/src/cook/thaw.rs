//! Thawing before roasting. Freezing and frozen food are not modelled.
//!
//! USDA, *Turkey Basics: Safe Thawing* (read on a page that quotes it): in a refrigerator at 40 F, 24 hours for each 4 to
//! 5 lb; in cold water 30 minutes a pound, the water changed every 30 minutes (that last is from memory).

/// Days in the refrigerator, whole, for a weight in g: a day for each 4 lb (1,814 g), the slower end of the rule.
///
/// ```
/// // 8 to 12 lb take 1 to 3 days.
/// assert_eq!(rangewright_models::cook::thaw::refrigerator_days(5_000.0), 3.0);
/// ```
pub fn refrigerator_days(weight_g: f64) -> f64 {
    (weight_g.clamp(0.0, 100_000.0) / 1_814.0).ceil().max(1.0)
}

/// Minutes in cold water for a weight in g: 30 minutes a pound.
pub fn cold_water_minutes(weight_g: f64) -> f64 {
    weight_g.clamp(0.0, 100_000.0) / 453.6 * 30.0
}

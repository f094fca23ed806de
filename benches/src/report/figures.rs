//! Means and how figures are written.

/// The geometric mean; absent if there is nothing to take it of.
pub(super) fn geometric_mean(values: &[f64]) -> Option<f64> {
    let logarithms: f64 = values.iter().map(|value| value.ln()).sum();
    (!values.is_empty()).then(|| (logarithms / values.len() as f64).exp())
}

/// The arithmetic mean; absent if there is nothing to take it of.
pub(super) fn mean(values: &[f64]) -> Option<f64> {
    (!values.is_empty()).then(|| values.iter().sum::<f64>() / values.len() as f64)
}

/// The middle one, or the lower of the two in the middle.
pub(super) fn median(values: &[f64]) -> Option<f64> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.get(sorted.len().saturating_sub(1) / 2).copied()
}

/// Seconds with as many digits as they are worth.
pub(super) fn seconds(value: Option<f64>) -> String {
    match value {
        None => "-".to_owned(),
        Some(value) if value < 0.01 => format!("{value:.4}"),
        Some(value) if value < 1.0 => format!("{value:.3}"),
        Some(value) => format!("{value:.1}"),
    }
}

/// A ratio to two digits.
pub(super) fn ratio(value: Option<f64>) -> String {
    match value {
        None => "-".to_owned(),
        Some(value) if value < 0.1 => format!("{value:.4}"),
        Some(value) => format!("{value:.2}"),
    }
}

/// Hundredths.
pub(super) fn percent(value: Option<f64>) -> String {
    value.map_or("-".to_owned(), |value| format!("{:.1} %", 100.0 * value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn means_of_nothing_are_absent() {
        assert_eq!(geometric_mean(&[]), None);
        assert_eq!(median(&[]), None);
        assert_eq!(mean(&[]), None);
    }

    #[test]
    fn means() {
        assert!((geometric_mean(&[0.25, 4.0]).expect("two values") - 1.0).abs() < 1e-12);
        assert_eq!(median(&[3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median(&[4.0, 1.0]), Some(1.0));
        assert_eq!(mean(&[1.0, 2.0]), Some(1.5));
    }
}

//! Quantities in words, as sheets and cautions say them.

/// Minutes in words: hours from 100 minutes on.
///
/// ```
/// use rangewright_models::units::spoken_minutes;
/// assert_eq!([45, 120, 160].map(spoken_minutes), ["45 min", "2 h", "2 h 40"]);
/// ```
pub fn spoken_minutes(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        _ if minutes < 100 => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest:02}"),
    }
}

//! Clock times, days and time zones.

use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::UnitError;
use crate::calendar::Clock;

/// A clock time: `18:40` or `18.40`, `6:40 pm`, `day before 15:00`, `2 days before 15:00`, `day after 0:30`.
pub fn clock(text: &str) -> Result<Clock, UnitError> {
    let wrong = || UnitError::NotAClock { found: text.trim().to_owned() };
    let lower = text.trim().to_lowercase();
    let (day, time) = match lower.rsplit_once(" before ").map(|(days, time)| (days, -1, time)) {
        Some(split) => Some(split),
        None => lower.rsplit_once(" after ").map(|(days, time)| (days, 1, time)),
    }
    .map_or(Ok((0, lower.as_str())), |(days, sign, time)| {
        day_count(days).map(|n| (sign * n, time)).ok_or_else(wrong)
    })?;
    let minute = time_of_day(time.trim()).ok_or_else(wrong)?;
    Ok(if minute == 1440 { Clock { day: day + 1, minute: 0 } } else { Clock { day, minute } })
}

/// From one clock time to another: `18:00 to 22:30`, `day before 15:00 to 18:00`. The second is on the day of the first, or on
/// the day after if it would otherwise not be later.
pub fn stretch(text: &str) -> Result<[Clock; 2], UnitError> {
    let split = text.split_once(" to ").or_else(|| text.split_once('–')).or_else(|| text.split_once(" - "));
    let Some((from, to)) = split else { return Err(UnitError::NotAClock { found: text.trim().to_owned() }) };
    let (from, mut until) = (clock(from)?, clock(to)?);
    if !to.contains("before") && !to.contains("after") {
        until.day += from.day;
        if until <= from {
            until.day += 1;
        }
    }
    if from < until { Ok([from, until]) } else { Err(UnitError::UpsideDown) }
}

/// A date in the order year, month, day: `2026-11-14`.
pub fn date(text: &str) -> Result<Date, UnitError> {
    let wrong = || UnitError::NotADate { found: text.trim().to_owned() };
    let plain = text.trim().bytes().all(|b| b.is_ascii_digit() || b == b'-');
    let date: Date = text.trim().parse().map_err(|_| wrong())?;
    // A month's room on either side, so that days before and after the feast exist.
    if plain && (1900..=2500).contains(&date.year()) { Ok(date) } else { Err(wrong()) }
}

/// A time zone by its IANA name: `Europe/London`.
pub fn zone(text: &str) -> Result<TimeZone, UnitError> {
    TimeZone::get(text.trim()).map_err(|_| UnitError::UnknownZone { found: text.trim().to_owned() })
}

fn day_count(text: &str) -> Option<i64> {
    match text.trim() {
        "day" | "the day" => Some(1),
        other => {
            let number = other.strip_suffix("days").or_else(|| other.strip_suffix("day"))?;
            number.trim().parse().ok().filter(|n| (0..=30).contains(n))
        }
    }
}

/// Minutes since midnight; 24:00 is 1,440.
fn time_of_day(text: &str) -> Option<i64> {
    let (text, half) = match (text.strip_suffix("am"), text.strip_suffix("pm")) {
        (Some(text), _) => (text.trim(), Some(0)),
        (_, Some(text)) => (text.trim(), Some(12)),
        _ => (text, None),
    };
    let (hour, minute) = match (text.split_once([':', '.']), half) {
        (Some((hour, minute)), _) if minute.len() == 2 => (hour, minute),
        (None, Some(_)) => (text, "00"),
        _ => return None,
    };
    let digits = |text: &str| -> Option<i64> {
        (!text.is_empty() && text.len() <= 2 && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
    };
    let (hour, minute) = (digits(hour)?, digits(minute)?);
    let hour = match half {
        Some(half) if (1..=12).contains(&hour) => hour % 12 + half,
        None if hour < 24 || (hour == 24 && minute == 0) => hour,
        _ => return None,
    };
    (minute < 60).then_some(hour * 60 + minute)
}

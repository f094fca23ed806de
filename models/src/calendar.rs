//! Minutes of a plan and the clock on the wall.

use std::fmt;

use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, ToSpan, ZonedDateTime};
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::problem::Minute;

/// No clock time lies more minutes than a century from midnight: beyond that it is out of range, and never counted with.
const FARTHEST: Minute = 100 * 366 * 1_440;

/// A clock time on the day of the feast or so many days from it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Clock {
    /// Days from the day of the feast; -1 is the day before.
    pub day: i64,
    /// Minutes on the clock since midnight, 0 to 1,439.
    pub minute: i64,
}

impl fmt::Display for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.day {
            0 => {}
            -1 => f.write_str("day before ")?,
            1 => f.write_str("day after ")?,
            day if day < 0 => write!(f, "{} days before ", -day)?,
            day => write!(f, "{day} days after ")?,
        }
        write!(f, "{:02}:{:02}", self.minute / 60, self.minute % 60)
    }
}

/// Why a clock time names no single moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum ClockError {
    /// The clocks are put forward over it.
    #[error("the clocks skip this time")]
    Skipped,
    /// The clocks are put back over it.
    #[error("the clocks show this time twice")]
    Twice,
    /// It lies outside the calendar.
    #[error("this day lies outside the calendar")]
    OutOfRange,
}

/// Turns minutes of a problem into moments and back.
///
/// Minutes are elapsed minutes since the first moment of day 0, so that a roast of 95 minutes lasts 95 minutes even when
/// the clocks change meanwhile.
#[derive(Clone, Debug, PartialEq)]
pub struct Calendar {
    zero: ZonedDateTime,
    feast: Date,
}

/// The moment of minute 0 with its offset and zone (RFC 9557), and the day of the feast.
#[derive(Serialize, Deserialize)]
struct Written {
    zero: String,
    feast: String,
}

impl Serialize for Calendar {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        Written { zero: self.zero.to_string(), feast: self.feast.to_string() }.serialize(serializer)
    }
}

impl<'de> Deserialize<'de> for Calendar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Calendar, D::Error> {
        let Written { zero, feast } = Written::deserialize(deserializer)?;
        let zero = zero.parse().map_err(D::Error::custom)?;
        Ok(Calendar { zero, feast: feast.parse().map_err(D::Error::custom)? })
    }
}

impl Calendar {
    /// The calendar of a feast on `date`, whose minute 0 is the first moment of the day `first_day` days from it.
    ///
    /// # Errors
    /// If that day lies outside the years 1 to 9999.
    pub fn new(date: Date, zone: TimeZone, first_day: i64) -> Result<Calendar, ClockError> {
        let day = date.checked_add(first_day.days()).map_err(|_| ClockError::OutOfRange)?;
        let zero = day.to_zoned_datetime(zone).map_err(|_| ClockError::OutOfRange)?;
        Ok(Calendar { zero, feast: date })
    }

    /// The moment of a minute. A minute outside the calendar gives the nearest end of it.
    pub fn moment(&self, minute: Minute) -> ZonedDateTime {
        self.zero.saturating_add(SignedDuration::from_mins(minute.clamp(-1_000_000_000, 1_000_000_000)))
    }

    /// The date and the time on the wall clock at a minute.
    pub fn civil(&self, minute: Minute) -> DateTime {
        self.moment(minute).datetime()
    }

    /// The day of the feast.
    pub fn feast_day(&self) -> Date {
        self.feast
    }

    /// The date of a clock time.
    pub fn day_of(&self, clock: Clock) -> Date {
        self.feast.saturating_add(clock.day.clamp(-100_000, 100_000).days())
    }

    /// The minute of a clock time.
    ///
    /// # Errors
    /// If the clock skips that time or shows it twice, or the day is outside the calendar.
    pub fn minute(&self, clock: Clock) -> Result<Minute, ClockError> {
        let day = clock.day.clamp(-100_000, 100_000).days();
        let date = self.feast.checked_add(day).map_err(|_| ClockError::OutOfRange)?;
        if !(-FARTHEST..=FARTHEST).contains(&clock.minute) {
            return Err(ClockError::OutOfRange);
        }
        let wall =
            date.to_datetime(jiff::civil::Time::midnight()).saturating_add(SignedDuration::from_mins(clock.minute));
        let ambiguous = self.zero.time_zone().to_ambiguous_timestamp(wall);
        let moment = match ambiguous.offset() {
            jiff::tz::AmbiguousOffset::Gap { .. } => return Err(ClockError::Skipped),
            jiff::tz::AmbiguousOffset::Fold { .. } => return Err(ClockError::Twice),
            jiff::tz::AmbiguousOffset::Unambiguous { .. } => {
                ambiguous.unambiguous().map_err(|_| ClockError::OutOfRange)?
            }
        };
        Ok(moment.duration_since(self.zero.timestamp()).as_mins())
    }
}

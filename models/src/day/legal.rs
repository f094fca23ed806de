//! Numbers that can be meant.

use std::ops::RangeInclusive;

use super::entry::{Entry, Event};
use super::fault::Untrue;
use crate::problem::legal::{COUNT, DEGREES, GAP, MINUTES};

/// At least one.
const SOME: RangeInclusive<i64> = 1..=*COUNT.end();
/// The most that a cook may be slower by, percent: six times as long.
const SLOWEST: i64 = 500;

/// Whether the numbers of an entry can be meant.
pub(super) fn legal(entry: &Entry) -> Result<(), Untrue> {
    let within = |what: &str, value: i64, range: &RangeInclusive<i64>| {
        let (least, most) = (*range.start(), *range.end());
        if range.contains(&value) {
            Ok(())
        } else {
            Err(Untrue::OutOfRange { what: what.to_owned(), value, least, most })
        }
    };
    within("minutes after midnight of the first day", entry.at, &MINUTES)?;
    match &entry.event {
        Event::Needs { minutes, .. } if *minutes >= 0 => within("minutes left", *minutes, &MINUTES),
        Event::Probe { core, target, from, .. } => [Some(*core), *target, *from]
            .into_iter()
            .flatten()
            .try_for_each(|degrees| within("degrees in the centre", degrees, &DEGREES)),
        Event::OvenReads { degrees, .. } => within("degrees in an oven", *degrees, &DEGREES),
        Event::GuestsLate { minutes, only, .. } => {
            within("minutes late", *minutes, &GAP)?;
            only.map_or(Ok(()), |only| within("guests who are late", only, &SOME))
        }
        Event::GuestsEarly { minutes, .. } => within("minutes early", *minutes, &GAP),
        Event::Slower { percent, .. } => within("percent slower", *percent, &(0..=SLOWEST)),
        Event::Broken { burners: Some(burners), .. } => within("burners", *burners, &COUNT),
        Event::MoreGuests { more, of } => {
            within("more guests", *more, &COUNT).and_then(|()| within("guests expected", *of, &SOME))
        }
        Event::FewerGuests { fewer, of } => {
            within("guests expected", *of, &SOME).and_then(|()| within("fewer guests", *fewer, &(0..=*of - 1)))
        }
        _ => Ok(()),
    }
}

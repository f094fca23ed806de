//! Every job as an event with an alarm: iCalendar, RFC 5545.
//!
//! Times are in UTC, which every calendar shows in its reader's zone. Events keep their UIDs when the same menu is planned
//! again, so that a calendar moves them and does not double them.

use std::collections::BTreeMap;
use std::time::SystemTime;

use jiff::Timestamp;
use jiff::tz::TimeZone;
use rangewright::models::problem::Minute;
use rangewright::models::schedule::What;

use crate::evening::{Entry, Evening, Sort, View};
use crate::plain::{self, TIED};

/// Octets of a line, without its end (RFC 5545, 3.1).
const LINE: usize = 75;

/// The calendar of an evening, or nothing for a bare problem, whose days have no dates.
pub(crate) fn calendar(view: &View<'_>, evening: &Evening<'_>, now: SystemTime) -> Option<String> {
    if !view.words.dated {
        return None;
    }
    let stamp = Timestamp::try_from(now).unwrap_or(Timestamp::UNIX_EPOCH);
    let mut lines = Lines::default();
    lines.raw("BEGIN:VCALENDAR");
    lines.raw("VERSION:2.0");
    lines.raw("PRODID:-//Rangewright//Run sheets//EN");
    lines.raw("CALSCALE:GREGORIAN");
    let name = match evening.only.and_then(|cook| view.cook(cook)) {
        Some(cook) => format!("{}: {cook}", evening.name),
        None => evening.name.clone(),
    };
    lines.text("NAME", &name);
    // The older name of the same property, which more programs read.
    lines.text("X-WR-CALNAME", &name);
    let place = feast(view);
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    // Every job counts, so that the calendar of one cook has the same UIDs as that of all.
    for entry in &evening.entries {
        let key = key(&entry.what);
        let number = seen.entry(key.clone()).or_default();
        *number += 1;
        if evening.only.is_none_or(|cook| entry.cooks.contains(&cook)) {
            event(view, evening, entry, &format!("{key}.{number}@{place}"), stamp, &mut lines);
        }
    }
    lines.raw("END:VCALENDAR");
    Some(lines.text)
}

fn event(view: &View<'_>, evening: &Evening<'_>, entry: &Entry, uid: &str, stamp: Timestamp, lines: &mut Lines) {
    let moment = |minute: Minute| utc(view.words.labels.calendar.moment(minute).timestamp());
    let cooks: Vec<&str> = entry.cooks.iter().filter_map(|cook| view.cook(*cook)).collect();
    let everyone = evening.only.is_none() && !entry.serves();
    let summary = if everyone { format!("{}: {}", cooks.join(", "), entry.head) } else { entry.head.clone() };
    lines.raw("BEGIN:VEVENT");
    lines.text("UID", uid);
    lines.raw(&format!("DTSTAMP:{}", utc(stamp)));
    lines.raw(&format!("DTSTART:{}", moment(entry.at)));
    if entry.until > entry.at {
        lines.raw(&format!("DTEND:{}", moment(entry.until)));
    }
    lines.text("SUMMARY", &summary);
    if let Some(place) = entry.more.iter().find(|line| line.sort == Sort::Where) {
        lines.text("LOCATION", &place.text);
    }
    let more: Vec<&str> = entry.more.iter().map(|line| line.text.as_str()).collect();
    if !more.is_empty() {
        lines.lines("DESCRIPTION", &more);
    }
    lines.raw("BEGIN:VALARM");
    lines.raw("ACTION:DISPLAY");
    lines.text("DESCRIPTION", &summary);
    lines.raw(&format!("TRIGGER:{}", trigger(&entry.what)));
    lines.raw("END:VALARM");
    lines.raw("END:VEVENT");
}

/// How long before a job its alarm sounds: time to wash one's hands before work, none where the minute itself counts.
fn trigger(what: &What) -> &'static str {
    match what {
        What::Work { .. } | What::PutIn { .. } | What::Serve { .. } => "-PT3M",
        What::TakeOut { .. } | What::Touch { .. } => "-PT1M",
        What::Leave { .. } | What::Dial { .. } | What::Shift { .. } => "PT0S",
    }
}

/// What a job is, whenever it is done and whoever does it.
fn key(what: &What) -> String {
    match what {
        What::Serve { course } => format!("serve.{course}"),
        What::TakeOut { step } => format!("take-out.{step}"),
        What::Shift { step, .. } => format!("shift.{step}"),
        What::Dial { place, .. } => format!("dial.{place}"),
        What::Leave { step } => format!("leave.{step}"),
        What::PutIn { step } => format!("put-in.{step}"),
        What::Work { step } => format!("work.{step}"),
        What::Touch { step, index } => format!("touch-{index}.{step}"),
    }
}

/// A name for the feast that no other has: its name and day, hashed (FNV-1a, 64 bits).
fn feast(view: &View<'_>) -> String {
    let labels = &view.words.said;
    let text = format!("{}\0{}\0{}", labels.name, labels.kitchen, labels.calendar.feast_day());
    let hash = text
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3));
    format!("{hash:016x}.rangewright")
}

fn utc(moment: Timestamp) -> String {
    moment.to_zoned_datetime(TimeZone::UTC).strftime("%Y%m%dT%H%M%SZ").to_string()
}

/// Content lines, folded by octets.
#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    fn raw(&mut self, line: &str) {
        let mut room = LINE;
        for letter in line.chars() {
            if letter.len_utf8() > room {
                self.text.push_str("\r\n ");
                // The space counts.
                room = LINE - 1;
            }
            room -= letter.len_utf8();
            self.text.push(letter);
        }
        self.text.push_str("\r\n");
    }

    fn text(&mut self, property: &str, value: &str) {
        self.lines(property, &[value]);
    }

    fn lines(&mut self, property: &str, values: &[&str]) {
        let values: Vec<String> = values.iter().map(|value| escape(value)).collect();
        self.raw(&format!("{property}:{}", values.join("\\n")));
    }
}

/// A TEXT value (RFC 5545, 3.3.11).
fn escape(text: &str) -> String {
    let mut safe = String::new();
    for letter in plain::line(&text.replace(TIED, " ")).chars() {
        if matches!(letter, '\\' | ';' | ',') {
            safe.push('\\');
        }
        safe.push(letter);
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_are_folded_by_octets_and_no_letter_is_cut() {
        let mut lines = Lines::default();
        lines.text("SUMMARY", &"käse🍲".repeat(40));
        assert!(lines.text.split("\r\n").all(|line| line.len() <= LINE), "{}", lines.text);
        assert_eq!(lines.text.replace("\r\n ", ""), format!("SUMMARY:{}\r\n", "käse🍲".repeat(40)));
    }

    #[test]
    fn marks_are_escaped_and_lines_kept() {
        let mut lines = Lines::default();
        lines.lines("DESCRIPTION", &["a, b; c\\d\r\nEND:VEVENT", "e"]);
        assert_eq!(lines.text, "DESCRIPTION:a\\, b\\; c\\\\d  END:VEVENT\\ne\r\n");
    }
}

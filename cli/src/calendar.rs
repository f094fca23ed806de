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

use crate::evening::{Entry, Evening, Sort, View, phrases};
use crate::plain::{self, TIED};

/// How long one alarm stands for all that begins: at most four of them sound in any half hour.
const TOGETHER: Minute = 10;

/// Octets of a line, without its end (RFC 5545, 3.1).
const LINE: usize = 75;

/// The calendar of an evening, or nothing for a bare problem, whose days have no dates.
///
/// Jobs that follow each other closely share an alarm, unless all are to have their own.
pub(crate) fn calendar(view: &View<'_>, evening: &Evening<'_>, all_alarms: bool, now: SystemTime) -> Option<String> {
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
    let keys: Vec<String> = evening
        .entries
        .iter()
        .map(|entry| {
            let key = key(&entry.what);
            let number = seen.entry(key.clone()).or_default();
            *number += 1;
            format!("{key}.{number}@{place}")
        })
        .collect();
    let shown: Vec<(&Entry, &String)> = evening
        .entries
        .iter()
        .zip(&keys)
        .filter(|(entry, _)| evening.only.is_none_or(|cook| entry.cooks.contains(&cook)))
        .collect();
    let entries: Vec<&Entry> = shown.iter().map(|(entry, _)| *entry).collect();
    let groups = groups(&entries, all_alarms);
    for (index, (entry, uid)) in shown.into_iter().enumerate() {
        let alarm = groups.get(&index).map(|group| group.iter().map(|own| entries[*own]).collect::<Vec<_>>());
        event(view, evening, entry, uid, alarm.as_deref(), stamp, &mut lines);
    }
    lines.raw("END:VCALENDAR");
    Some(lines.text)
}

/// Which jobs an alarm of its own is for, by the index of the first of them.
fn groups(entries: &[&Entry], each: bool) -> BTreeMap<usize, Vec<usize>> {
    let mut order: Vec<usize> = (0..entries.len()).collect();
    let sounds = |index: usize| entries[index].at - lead(&entries[index].what);
    order.sort_by_key(|&index| (sounds(index), index));
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    let mut first: Option<usize> = None;
    for index in order {
        let head = first.filter(|&head| !each && sounds(index) < sounds(head) + TOGETHER).unwrap_or(index);
        first = Some(head);
        groups.entry(head).or_default().push(index);
    }
    groups
}

/// A job in a line: who, for which dish, what.
fn summary(view: &View<'_>, evening: &Evening<'_>, entry: &Entry) -> String {
    let cooks: Vec<&str> = entry.cooks.iter().filter_map(|cook| view.cook(*cook)).collect();
    let what = match entry.letter() {
        Some(letter) => format!("{letter} {}", entry.said()),
        None => entry.said(),
    };
    let everyone = evening.only.is_none() && !entry.serves();
    if everyone { format!("{}: {what}", phrases::list(&cooks)) } else { what }
}

fn event(
    view: &View<'_>,
    evening: &Evening<'_>,
    entry: &Entry,
    uid: &str,
    alarm: Option<&[&Entry]>,
    stamp: Timestamp,
    lines: &mut Lines,
) {
    let moment = |minute: Minute| utc(view.words.labels.calendar.moment(minute).timestamp());
    let summary = |entry| summary(view, evening, entry);
    lines.raw("BEGIN:VEVENT");
    lines.text("UID", uid);
    lines.raw(&format!("DTSTAMP:{}", utc(stamp)));
    lines.raw(&format!("DTSTART:{}", moment(entry.at)));
    if entry.until > entry.at {
        lines.raw(&format!("DTEND:{}", moment(entry.until)));
    }
    lines.text("SUMMARY", &summary(entry));
    if let Some(place) = entry.more.iter().find(|line| line.sort == Sort::Where) {
        lines.text("LOCATION", &place.text);
    }
    let more: Vec<&str> = entry.more.iter().map(|line| line.text.as_str()).collect();
    if !more.is_empty() {
        lines.lines("DESCRIPTION", &more);
    }
    if let Some(together) = alarm {
        let said: Vec<String> = match together {
            [one] => vec![summary(one)],
            several => several.iter().map(|own| format!("{} {}", own.clock, summary(own))).collect(),
        };
        lines.raw("BEGIN:VALARM");
        lines.raw("ACTION:DISPLAY");
        lines.lines("DESCRIPTION", &said.iter().map(String::as_str).collect::<Vec<_>>());
        let lead = lead(&entry.what);
        lines.raw(&if lead > 0 { format!("TRIGGER:-PT{lead}M") } else { "TRIGGER:PT0S".to_owned() });
        lines.raw("END:VALARM");
    }
    lines.raw("END:VEVENT");
}

/// How long before a job its alarm sounds: time to wash one's hands before work, none where the minute itself counts.
fn lead(what: &What) -> Minute {
    match what {
        What::Work { .. } | What::PutIn { .. } | What::Serve { .. } => 3,
        What::TakeOut { .. } | What::Touch { .. } => 1,
        What::Leave { .. } | What::Dial { .. } | What::Shift { .. } | What::Wash { .. } => 0,
    }
}

/// What a job is, whenever it is done and whoever does it.
fn key(what: &What) -> String {
    match what {
        What::Serve { course } => format!("serve.{course}"),
        What::TakeOut { step } => format!("take-out.{step}"),
        What::Shift { step, .. } => format!("shift.{step}"),
        What::Dial { place, .. } => format!("dial.{place}"),
        What::Wash { after } => format!("wash.{after}"),
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

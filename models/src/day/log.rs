//! The file of the log: JSON lines that are added and never rewritten.

use std::fmt;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::entry::{EVENTS, Entry};

/// What a log says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Log {
    /// The whole entries, in the order of the file.
    pub entries: Vec<Entry>,
    /// Numbers, from 1, of the lines that were cut off in mid-write. They are left out.
    pub torn: Vec<usize>,
}

/// A line that is whole and still no entry.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct LogFault {
    /// Its number, from 1.
    pub line: usize,
    /// What is wrong with it.
    pub why: String,
}

impl fmt::Display for LogFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {} of the log is no entry: {}", self.line, self.why)
    }
}

/// Reads a log, whole or cut off anywhere.
///
/// A line that ends before its entry does is what a crash leaves behind: it is left out and named in [`Log::torn`]. No
/// beginning of an entry is an entry, so nothing half-written is ever believed. A byte order mark before it is passed over.
///
/// # Errors
/// Every line that is whole and no entry: a log somebody has spoilt is not guessed at.
///
/// ```
/// use rangewright_models::day;
/// let log = day::read(b"{\"at\": 5, \"event\": \"finished\", \"step\": \"stir\"}\n{\"at\": 9, \"ev").expect("entries");
/// assert_eq!((log.entries.len(), log.torn), (1, vec![2]));
/// ```
pub fn read(bytes: &[u8]) -> Result<Log, Vec<LogFault>> {
    let mut log = Log::default();
    let mut faults = Vec::new();
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    for (index, text) in bytes.split(|&byte| byte == b'\n').enumerate() {
        if text.iter().all(u8::is_ascii_whitespace) {
            continue;
        }
        match serde_json::from_slice(text) {
            Ok(entry) => log.entries.push(entry),
            Err(error) if error.is_eof() => log.torn.push(index + 1),
            Err(error) => faults.push(LogFault { line: index + 1, why: why(text, &error) }),
        }
    }
    if faults.is_empty() { Ok(log) } else { Err(faults) }
}

/// What is wrong with a line, and how it is written, in words for whoever spoilt it.
fn why(text: &[u8], error: &serde_json::Error) -> String {
    let Ok(value) = serde_json::from_slice::<Value>(text) else {
        return "it is not written like {\"at\": 1090, \"event\": \"started\", \"step\": \"soup/simmer\"}".to_owned();
    };
    if value.get("at").and_then(Value::as_i64).is_none() {
        return "\"at\" must be a whole number: minutes after midnight of the first day of the plan".to_owned();
    }
    match value.get("event").and_then(Value::as_str) {
        Some(event) if EVENTS.contains(&event) => {
            // serde's own words, without its columns: they name the field.
            let said = error.to_string();
            let end = said.rfind(" at line ").unwrap_or(said.len());
            format!("{event:?} is said with other fields ({})", said[..end].replace('`', "\""))
        }
        Some(event) => format!("there is no event {event:?}; write one of {}", EVENTS.join(", ")),
        None => format!("it has no \"event\"; write one of {}", EVENTS.join(", ")),
    }
}

/// The bytes to add to a log for one entry. After a line that was cut off they begin on a new one.
///
/// ```
/// use rangewright_models::day::{Entry, Event, line, read};
/// let entry = Entry { at: 7, event: Event::Finished { step: "stir".to_owned() } };
/// let mut file = b"{\"at\": 5, \"ev".to_vec();
/// file.extend(line(&file, &entry));
/// assert_eq!(read(&file).expect("entries").entries, [entry]);
/// ```
pub fn line(before: &[u8], entry: &Entry) -> Vec<u8> {
    let mut bytes = Vec::new();
    if before.last().is_some_and(|&byte| byte != b'\n') {
        bytes.push(b'\n');
    }
    bytes.extend(serde_json::to_vec(entry).expect("an entry is plain data with text keys"));
    bytes.push(b'\n');
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fault(text: &str) -> String {
        read(text.as_bytes()).expect_err("no entry").remove(0).why
    }

    #[test]
    fn every_event_is_among_the_words_and_no_other() {
        let error =
            serde_json::from_str::<Entry>(r#"{"at": 1, "event": "toppled"}"#).expect_err("no event").to_string();
        let known: Vec<&str> = error.split('`').skip(3).step_by(2).collect();
        assert_eq!(known, EVENTS);
    }

    #[test]
    fn what_is_spoilt_is_said_in_words() {
        let burnt = fault(r#"{"at": 1, "event": "toppled", "step": "soup"}"#);
        assert!(burnt.starts_with("there is no event \"toppled\"; write one of started, finished, put-in"), "{burnt}");
        assert!(fault(r#"{"at": "18:30", "event": "started", "step": "soup"}"#).starts_with("\"at\" must be a whole"));
        assert!(fault("started the soup\n").starts_with("it is not written like"));
        assert!(fault(r#"{"at": 1}"#).starts_with("it has no \"event\""));
        let missing = fault(r#"{"at": 1, "event": "probe", "step": "roast"}"#);
        assert_eq!(missing, "\"probe\" is said with other fields (missing field \"core\")");
        for machine in ["variant", "i64", "column"] {
            assert!(!burnt.contains(machine) && !missing.contains(machine));
        }
    }
}

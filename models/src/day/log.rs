//! The file of the log: JSON lines that are added and never rewritten.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::entry::Entry;

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
/// beginning of an entry is an entry, so nothing half-written is ever believed.
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
    for (index, text) in bytes.split(|&byte| byte == b'\n').enumerate() {
        if text.iter().all(u8::is_ascii_whitespace) {
            continue;
        }
        match serde_json::from_slice(text) {
            Ok(entry) => log.entries.push(entry),
            Err(error) if error.is_eof() => log.torn.push(index + 1),
            Err(error) => faults.push(LogFault { line: index + 1, why: error.to_string() }),
        }
    }
    if faults.is_empty() { Ok(log) } else { Err(faults) }
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

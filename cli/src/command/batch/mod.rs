//! `rangewright batch`: many questions in one process, a line each.

mod question;
#[cfg(test)]
mod schema;

use std::collections::BTreeMap;
use std::io::{BufRead, BufReader, ErrorKind, Read};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::time::{Duration, SystemTime};

use clap::Parser;
use serde::Serialize;
use serde_json::value::RawValue;

use crate::args::{Args, BatchArgs};
use crate::{Exit, Io, Terminal, input, plain};
use question::Question;

/// Lines longer than this are no question, bytes: a menu, its kitchen, a plan and a log fit in.
const LONGEST: usize = 2 * input::LONGEST;

/// What is answered to one line.
#[derive(Default, Serialize)]
struct Reply {
    /// Counted from 1.
    line: u64,
    /// As the question gave it.
    id: Option<Box<RawValue>>,
    ask: Option<String>,
    exit: u8,
    #[serde(skip_serializing_if = "Option::is_none")]
    answer: Option<Box<RawValue>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    complaint: Option<String>,
}

pub(super) fn run(args: &BatchArgs, io: &mut Io<'_>) -> Exit {
    let began = (io.clock)();
    let world = World {
        disk: args.read_files,
        folder: io.folder.clone(),
        clock: io.clock,
        began: io.now.checked_sub(began).unwrap_or(io.now),
        terminal: Terminal { colour: false, watched: false, ..io.terminal },
    };
    let mut lines = BufReader::new(&mut *io.stdin);
    let mut number = 0;
    let failed = loop {
        let line = match line(&mut lines) {
            Ok(Some(line)) => line,
            Ok(None) => return Exit::Planned,
            Err(error) => break format!("error: the questions cannot be read: {error}\n"),
        };
        number += 1;
        if matches!(&line, Line::Whole(text) if text.iter().all(u8::is_ascii_whitespace)) {
            continue;
        }
        let reply = Reply { line: number, ..world.reply(&line) };
        let text = serde_json::to_string(&reply).expect("plain data with text keys always becomes JSON") + "\n";
        match io.stdout.write_all(text.as_bytes()).and_then(|()| io.stdout.flush()) {
            Ok(()) => {}
            // Whoever asked has gone away.
            Err(error) if error.kind() == ErrorKind::BrokenPipe => return Exit::Planned,
            Err(error) => break format!("error: the answer cannot be written: {error}\n"),
        }
    };
    drop(lines);
    io.complain(&failed, Exit::Io)
}

enum Line {
    Whole(Vec<u8>),
    TooLong,
}

/// The next line, without keeping more of it than a question may have.
fn line(from: &mut impl BufRead) -> std::io::Result<Option<Line>> {
    let mut text = Vec::new();
    if from.by_ref().take(LONGEST as u64 + 1).read_until(b'\n', &mut text)? == 0 {
        return Ok(None);
    }
    if text.len() <= LONGEST {
        return Ok(Some(Line::Whole(text)));
    }
    while !text.ends_with(b"\n") {
        text.clear();
        if from.by_ref().take(LONGEST as u64).read_until(b'\n', &mut text)? == 0 {
            break;
        }
    }
    Ok(Some(Line::TooLong))
}

/// What every question finds.
struct World<'a> {
    disk: bool,
    folder: PathBuf,
    clock: &'a (dyn Fn() -> Duration + Sync),
    /// The time of day at which the clock stood at nothing.
    began: SystemTime,
    terminal: Terminal,
}

impl World<'_> {
    /// The answer to a line, whatever it says.
    fn reply(&self, line: &Line) -> Reply {
        let refused =
            |complaint: String| Reply { exit: Exit::BadInput as u8, complaint: Some(complaint), ..Reply::default() };
        let text = match line {
            Line::TooLong => {
                return refused(format!("the line is longer than {LONGEST} bytes, more than any question is"));
            }
            Line::Whole(bytes) => match std::str::from_utf8(bytes) {
                Ok(text) => text,
                Err(error) => return refused(format!("the byte at {} is not UTF-8", error.valid_up_to())),
            },
        };
        let fields: BTreeMap<String, Box<RawValue>> = match serde_json::from_str(text) {
            Ok(fields) => fields,
            Err(error) => return refused(plain::lines(&format!("this is no JSON object: {error}"))),
        };
        let id = fields.get("id").cloned();
        match question::read(fields) {
            Ok(question) => {
                let ask = Some(question.ask.clone());
                let answered = catch_unwind(AssertUnwindSafe(|| self.answer(question)));
                let reply = answered.unwrap_or_else(|_| Reply {
                    exit: Exit::Internal as u8,
                    complaint: Some("a defect of ours: please report the question".to_owned()),
                    ..Reply::default()
                });
                Reply { id, ask, ..reply }
            }
            Err(why) => Reply { id, ..refused(plain::lines(&why)) },
        }
    }

    /// What the command answers, in a world of its own.
    fn answer(&self, question: Question) -> Reply {
        let (mut out, mut complaint) = (Vec::new(), Vec::new());
        let mut io = Io {
            stdin: &mut std::io::empty(),
            stdout: &mut out,
            stderr: &mut complaint,
            folder: self.folder.clone(),
            held: question.files,
            disk: self.disk,
            clock: self.clock,
            interrupted: &|| false,
            now: self.began + (self.clock)(),
            terminal: self.terminal,
        };
        let exit = match Args::try_parse_from(question.args) {
            Ok(args) => super::run(&args, &mut io),
            Err(error) => io.complain(&error.render().to_string(), Exit::BadInput),
        };
        let [out, complaint] = [out, complaint].map(|bytes| String::from_utf8_lossy(&bytes).trim_end().to_owned());
        let complaint = complaint.strip_prefix("error: ").map_or(complaint.clone(), str::to_owned);
        let as_data = question.as_data.then(|| RawValue::from_string(on_one_line(&out)).ok()).flatten();
        let answer = as_data.or_else(|| serde_json::value::to_raw_value(&(out + "\n")).ok());
        Reply {
            exit: exit as u8,
            answer: answer.filter(|answer| answer.get() != "\"\\n\""),
            complaint: Some(complaint).filter(|text| !text.is_empty()),
            ..Reply::default()
        }
    }
}

/// JSON without the white space between its parts; nothing within a text is touched.
fn on_one_line(json: &str) -> String {
    let (mut within, mut escaped) = (false, false);
    let keep = |letter: &char| {
        let quote = *letter == '"' && !escaped;
        escaped = within && *letter == '\\' && !escaped;
        within ^= quote;
        within || !letter.is_ascii_whitespace()
    };
    json.chars().filter(keep).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_white_space_between_the_parts_goes() {
        let pretty = "{\n  \"a \\\" \\\\\": [\n    1.50, \"x  y\"\n  ], \"b\": \" \\\\\\\" \"\n}";
        assert_eq!(on_one_line(pretty), "{\"a \\\" \\\\\":[1.50,\"x  y\"],\"b\":\" \\\\\\\" \"}");
    }

    #[test]
    fn a_line_without_an_end_is_passed_over() {
        let mut text = vec![b'x'; LONGEST + 5];
        text.extend(b"\n{}\n{}");
        let mut from = BufReader::new(text.as_slice());
        let mut next = || line(&mut from).unwrap();
        assert!(matches!(next(), Some(Line::TooLong)));
        assert!(matches!(next(), Some(Line::Whole(text)) if text == b"{}\n"));
        assert!(matches!(next(), Some(Line::Whole(text)) if text == b"{}"));
        assert!(next().is_none());
    }
}

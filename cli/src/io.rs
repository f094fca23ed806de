//! Everything the command has to do with the world outside.

use std::collections::BTreeMap;
#[cfg(feature = "command")]
use std::ffi::OsString;
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use crate::Exit;

/// The world as the command sees it.
pub struct Io<'a> {
    /// What `-` reads.
    pub stdin: &'a mut dyn Read,
    /// Where answers go.
    pub stdout: &'a mut dyn Write,
    /// Where complaints go.
    pub stderr: &'a mut dyn Write,
    /// The folder that relative paths start from.
    pub folder: PathBuf,
    /// Files that are at hand without a disk, by the paths they are called by: looked at before any folder.
    pub held: BTreeMap<PathBuf, Vec<u8>>,
    /// Whether files of the machine may be read as well.
    pub disk: bool,
    /// Time since the command was started.
    pub clock: &'a (dyn Fn() -> Duration + Sync),
    /// Whether somebody has asked to end: a search then hands out the best there is.
    pub interrupted: &'a (dyn Fn() -> bool + Sync),
    /// The date and the time, for what says when it was made.
    pub now: SystemTime,
    /// What is known of the terminal.
    pub terminal: Terminal,
}

/// What is known of the terminal behind the standard output.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Terminal {
    /// Columns; absent if there is no terminal or it does not say.
    pub width: Option<usize>,
    /// Whether bold and colours are wanted.
    pub colour: bool,
    /// Whether more than ASCII can be shown.
    pub unicode: bool,
    /// Whether somebody watches the standard error, so that a long search should show that it goes on.
    pub watched: bool,
}

impl Terminal {
    /// Looks at the usual variables: `NO_COLOR`, `TERM`, `COLUMNS`, and the locale.
    #[cfg(feature = "command")]
    pub fn from_environment(is_terminal: bool, variable: impl Fn(&str) -> Option<OsString>) -> Self {
        let filled = |name: &str| variable(name).filter(|value| !value.is_empty());
        let text = |name: &str| filled(name).map(|value| value.to_string_lossy().to_lowercase());
        let locale = ["LC_ALL", "LC_CTYPE", "LANG"].iter().find_map(|name| text(name)).unwrap_or_default();
        let columns = text("COLUMNS").and_then(|columns| columns.parse().ok());
        let size =
            if is_terminal { terminal_size::terminal_size().map(|(width, _)| usize::from(width.0)) } else { None };
        Terminal {
            width: size.or(columns).filter(|&width| width > 0),
            colour: is_terminal && filled("NO_COLOR").is_none() && text("TERM").as_deref() != Some("dumb"),
            unicode: locale.contains("utf-8") || locale.contains("utf8"),
            watched: false,
        }
    }
}

impl Io<'_> {
    /// Writes an answer and passes the exit code on. A reader who has gone away is no fault; another failure is.
    pub(crate) fn print(&mut self, text: &str, exit: Exit) -> Exit {
        match self.stdout.write_all(text.as_bytes()).and_then(|()| self.stdout.flush()) {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => {
                self.complain(&format!("error: the answer cannot be written: {error}\n"), Exit::Io)
            }
            _ => exit,
        }
    }

    /// Writes a complaint and passes the exit code on. There is nobody left to complain to if that fails.
    ///
    /// Whatever names and texts of files are in it, no control character but a line's end reaches the terminal, and of
    /// escape sequences only colours, where colours are wanted.
    pub(crate) fn complain(&mut self, text: &str, exit: Exit) -> Exit {
        let text = crate::plain::coloured(text, self.terminal.colour);
        let _ = self.stderr.write_all(text.as_bytes()).and_then(|()| self.stderr.flush());
        exit
    }

    /// Shows on the standard error how things stand; nothing hangs on whether that succeeds.
    pub(crate) fn show(&mut self, text: &str) {
        let _ = self.stderr.write_all(text.as_bytes()).and_then(|()| self.stderr.flush());
    }

    /// Reads a text file of at most so many bytes, or standard input for `-`. A byte order mark is no part of the text.
    pub(crate) fn read(&mut self, path: &Path, most: usize) -> Result<String, Unreadable> {
        let mut bytes = self.bytes(path, most)?;
        if bytes.starts_with(b"\xef\xbb\xbf") {
            bytes.drain(..3);
        }
        String::from_utf8(bytes).map_err(|error| {
            let at = error.utf8_error().valid_up_to();
            let why = format!("it is no text: the byte at {at} is not UTF-8; save it as UTF-8");
            Unreadable { why, exit: Exit::BadInput }
        })
    }

    /// The bytes of a file, or of standard input for `-`. A device or a pipe without an end is not read without one.
    pub(crate) fn bytes(&mut self, path: &Path, most: usize) -> Result<Vec<u8>, Unreadable> {
        let failed = |error: std::io::Error| Unreadable { why: reason(&error), exit: Exit::Io };
        if path == Path::new("-") {
            return at_most(self.stdin, most).map_err(failed)?;
        }
        if let Some(held) = self.held.get(path) {
            return at_most(&mut held.as_slice(), most).map_err(failed)?;
        }
        if !self.disk {
            return Err(Unreadable { why: NO_DISK.to_owned(), exit: Exit::BadInput });
        }
        let path = self.folder.join(path);
        if path.is_dir() {
            return Err(Unreadable { why: "it is a folder; name a file in it".to_owned(), exit: Exit::Io });
        }
        let mut file = std::fs::File::open(path).map_err(failed)?;
        at_most(&mut file, most).map_err(failed)?
    }
}

/// Why a file of the machine is not read where only what is held may be.
pub(crate) const NO_DISK: &str = "it is none of the files of this question";

/// All that there is to read, unless it is more than so many bytes.
pub(crate) fn at_most(from: &mut dyn Read, most: usize) -> std::io::Result<Result<Vec<u8>, Unreadable>> {
    let mut bytes = Vec::new();
    from.take(most as u64 + 1).read_to_end(&mut bytes)?;
    let why = format!("it is longer than {most} bytes, more than anything of ours is");
    Ok(if bytes.len() > most { Err(Unreadable { why, exit: Exit::BadInput }) } else { Ok(bytes) })
}

/// Why a file was not read.
pub(crate) struct Unreadable {
    pub(crate) why: String,
    pub(crate) exit: Exit,
}

/// What keeps a file from being read or written.
pub(crate) fn reason(error: &std::io::Error) -> String {
    match error.kind() {
        ErrorKind::NotFound => "there is no such file".to_owned(),
        ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        _ => error.to_string(),
    }
}

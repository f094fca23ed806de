//! The command, driven without a process: arguments, standard input, a folder and a terminal in; exit code and texts out.

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::io::{self, Write};
use std::path::Path;
use std::time::{Duration, SystemTime};

use rangewright_cli::{Exit, Io, Terminal, run};

/// The moment at which every test runs: 1 November 2026, 12:00 UTC.
pub const NOW: u64 = 1_793_534_400;

/// What the command is given besides its arguments.
#[derive(Clone, Debug, Default)]
pub struct World<'a> {
    /// What `-` reads.
    pub stdin: &'a [u8],
    /// The current folder; the package's own if absent.
    pub folder: Option<&'a Path>,
    /// The terminal.
    pub terminal: Terminal,
    /// Whether somebody asked to end before it began.
    pub interrupted: bool,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The exit code.
    pub exit: Exit,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// Runs `rangewright ARGS` in a world whose clock stands still.
pub fn rangewright(args: &[&str], world: &World<'_>) -> Answer {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let exit = rangewright_into(args, world, &mut out, &mut err);
    let text = |bytes| String::from_utf8(bytes).expect("the command writes UTF-8");
    Answer { exit, out: text(out), err: text(err) }
}

/// As [`rangewright()`], writing wherever the test wants.
pub fn rangewright_into(args: &[&str], world: &World<'_>, out: &mut dyn Write, err: &mut dyn Write) -> Exit {
    let clock = || Duration::ZERO;
    let mut io = Io {
        stdin: &mut io::Cursor::new(world.stdin),
        stdout: out,
        stderr: err,
        folder: world.folder.unwrap_or(Path::new(env!("CARGO_MANIFEST_DIR"))).to_owned(),
        held: BTreeMap::new(),
        disk: true,
        clock: &clock,
        interrupted: &|| world.interrupted,
        now: SystemTime::UNIX_EPOCH + Duration::from_secs(NOW),
        terminal: world.terminal,
    };
    let name = [OsString::from("rangewright")];
    run(name.into_iter().chain(args.iter().map(OsString::from)), &mut io)
}

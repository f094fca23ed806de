//! How long a command may search.

use std::time::Duration;

use rangewright::{Error, Limits};

use crate::args::{AskArgs, LimitArgs};
use crate::input::Refusal;
use crate::{Exit, Io};

/// Without a limit of any kind `plan` gives up after so many seconds.
const SECONDS: f64 = 10.0;
/// Without a limit of any kind each search of a question gives up after so many units of work.
const WORK: u64 = 50_000;

/// The limits of a run of the command: the time is for everything it does.
pub(super) struct Search<'a> {
    work: Option<u64>,
    gap_per_mille: u32,
    threads: usize,
    stop: Box<dyn Fn() -> bool + Sync + 'a>,
}

impl<'a> Search<'a> {
    pub(super) fn new(args: &LimitArgs, io: &Io<'a>) -> Self {
        Self::for_seconds(args, SECONDS, io)
    }

    /// With another default for the time.
    pub(super) fn for_seconds(args: &LimitArgs, default: f64, io: &Io<'a>) -> Self {
        let seconds = args.time.or(if args.work.is_none() { Some(default) } else { None });
        Search {
            work: args.work,
            // At most 1000: percents are checked when the arguments are read.
            gap_per_mille: (args.gap.unwrap_or(0.0) * 10.0).round() as u32,
            threads: usize::from(args.threads),
            stop: stop(seconds, io),
        }
    }

    /// The limits of a question.
    pub(super) fn of_question(args: &AskArgs, io: &Io<'a>) -> Self {
        let work = args.work.or(if args.time.is_none() { Some(WORK) } else { None });
        Search { work, gap_per_mille: 0, threads: 1, stop: stop(args.time, io) }
    }

    pub(super) fn limits(&self) -> Limits<'_> {
        Limits {
            work: self.work,
            gap_per_mille: self.gap_per_mille,
            stop: Some(&*self.stop),
            threads: self.threads,
            ..Limits::default()
        }
    }
}

/// Enough is enough when the time is up, or when somebody says so.
fn stop<'a>(seconds: Option<f64>, io: &Io<'a>) -> Box<dyn Fn() -> bool + Sync + 'a> {
    let (clock, interrupted) = (io.clock, io.interrupted);
    match seconds.map(|seconds| clock() + Duration::from_secs_f64(seconds)) {
        Some(deadline) => Box::new(move || interrupted() || clock() >= deadline),
        None => Box::new(interrupted),
    }
}

/// What keeps the library from answering at all.
pub(super) fn refusal(error: &Error) -> Refusal {
    let exit = if matches!(error, Error::Internal(_)) { Exit::Internal } else { Exit::BadInput };
    Refusal::new(format!("error: {error}\n"), exit)
}

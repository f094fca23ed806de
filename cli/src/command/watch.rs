//! A search that shows somebody who watches that it goes on.

use std::sync::Mutex;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use rangewright::{Error, FeastPlan, Limits, Outcome, Planner, Progress};

use crate::Io;

/// How often the line is written anew.
const EVERY: Duration = Duration::from_millis(500);
/// A search that is over sooner says nothing.
const PATIENCE: Duration = Duration::from_secs(1);
/// Back to the beginning of the line, which is emptied.
const CLEAR: &str = "\r\x1b[K";

/// Plans; if somebody watches the standard error, a line there says for how long and how far.
pub(super) fn plan(planner: &Planner, limits: &Limits<'_>, io: &mut Io<'_>) -> Result<Outcome<FeastPlan>, Error> {
    if !io.terminal.watched {
        return planner.plan(limits);
    }
    let known: Mutex<&'static str> = Mutex::new("looking for a plan");
    let (done, ended) = mpsc::channel::<()>();
    let began = (io.clock)();
    let (stop, start) = (limits.stop, limits.start);
    let (work, gap_per_mille, threads) = (limits.work, limits.gap_per_mille, limits.threads);
    thread::scope(|scope| {
        let known = &known;
        let search = scope.spawn(move || {
            let tell = |progress: &Progress| {
                if let Ok(mut known) = known.lock() {
                    *known = says(progress);
                }
            };
            let limits = Limits { work, gap_per_mille, start, stop, progress: Some(&tell), threads };
            let outcome = planner.plan(&limits);
            // Whoever waits for the end is told by the sender going away.
            drop(done);
            outcome
        });
        let mut shown = false;
        while let Err(RecvTimeoutError::Timeout) = ended.recv_timeout(EVERY) {
            let gone = (io.clock)().saturating_sub(began);
            if gone >= PATIENCE {
                let what = known.lock().map_or("searching", |known| *known);
                io.show(&format!("{CLEAR}{} s: {what}", gone.as_secs()));
                shown = true;
            }
        }
        if shown {
            io.show(CLEAR);
        }
        search.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}

/// What is known so far, in a few words.
fn says(progress: &Progress) -> &'static str {
    match &progress.best {
        None => "looking for a plan",
        Some(_) => "a plan is found, looking for a better one or a proof",
    }
}

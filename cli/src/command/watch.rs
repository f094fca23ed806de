//! A search that shows that it goes on: to somebody who watches, or to another program.

use std::sync::mpsc::{self, RecvTimeoutError};
use std::thread;
use std::time::Duration;

use rangewright::{Error, FeastPlan, Limits, Outcome, Planner, Progress};

use crate::args::ProgressArg;
use crate::{Io, json};

/// How often the line is written anew.
const EVERY: Duration = Duration::from_millis(500);
/// A search that is over sooner says nothing.
const PATIENCE: Duration = Duration::from_secs(1);
/// Back to the beginning of the line, which is emptied.
const CLEAR: &str = "\r\x1b[K";

/// Plans, and tells meanwhile on the standard error how things stand.
pub(super) fn plan(
    planner: &Planner,
    limits: &Limits<'_>,
    how: Option<ProgressArg>,
    io: &mut Io<'_>,
) -> Result<Outcome<FeastPlan>, Error> {
    let by_itself = if io.terminal.watched { ProgressArg::Line } else { ProgressArg::None };
    // A browser lends no second thread to tell from.
    let how = if cfg!(target_family = "wasm") { ProgressArg::None } else { how.unwrap_or(by_itself) };
    if how == ProgressArg::None {
        return planner.plan(limits);
    }
    let began = (io.clock)();
    let (news, heard) = mpsc::channel::<Progress>();
    let (stop, start) = (limits.stop, limits.start);
    let (work, gap_per_mille, threads) = (limits.work, limits.gap_per_mille, limits.threads);
    thread::scope(|scope| {
        let search = scope.spawn(move || {
            // Whoever listens is told of the end by the sender going away; until then nobody stops listening.
            let tell = move |progress: &Progress| {
                let _ = news.send(*progress);
            };
            planner.plan(&Limits { work, gap_per_mille, start, stop, progress: Some(&tell), threads })
        });
        match how {
            ProgressArg::Jsonl => {
                for progress in &heard {
                    io.show(&json::progress((io.clock)().saturating_sub(began), &progress));
                }
            }
            _ => line(&heard, began, io),
        }
        search.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic))
    })
}

/// A line for people that says for how long and how far, until there is nothing more to hear.
fn line(heard: &mpsc::Receiver<Progress>, began: Duration, io: &mut Io<'_>) {
    let (mut known, mut shown) = ("looking for a plan", None);
    loop {
        match heard.recv_timeout(EVERY) {
            Ok(progress) => known = says(&progress),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => break,
        }
        let now = (io.clock)();
        let gone = now.saturating_sub(began);
        if gone >= PATIENCE && shown.is_none_or(|last| now.saturating_sub(last) >= EVERY) {
            io.show(&format!("{CLEAR}{} s: {known}", gone.as_secs()));
            shown = Some(now);
        }
    }
    if shown.is_some() {
        io.show(CLEAR);
    }
}

/// What is known so far, in a few words.
fn says(progress: &Progress) -> &'static str {
    match &progress.best {
        None => "looking for a plan",
        Some(_) => "a plan is found, looking for a better one or a proof",
    }
}

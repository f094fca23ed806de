//! `rangewright plan`.

use std::time::Duration;

use rangewright::models::schedule::{Crew, schedule_with};
use rangewright::{Error, Limits, Outcome, solve};

use crate::args::{Format, LimitArgs, PlanArgs};
use crate::sheet::{self, View};
use crate::{Exit, Io, input, json};

/// Without a limit of any kind the command gives up after so many seconds.
const SECONDS: f64 = 10.0;

pub(super) fn run(args: &PlanArgs, io: &mut Io<'_>) -> Exit {
    let input = match input::read(args.menu.as_deref(), io) {
        Ok(input) => input,
        Err(refusal) => return io.complain(&refusal.text, refusal.exit),
    };
    let (problem, mut words) = (input.problem, input.words);
    super::adapt(&mut words, &args.look);
    let outcome = match search(&problem, &args.limits, io) {
        Ok(outcome) => outcome,
        Err(error) => {
            let exit = if matches!(error, Error::Internal(_)) { Exit::Internal } else { Exit::BadInput };
            return io.complain(&format!("error: {error}\n"), exit);
        }
    };
    let look = super::look(&args.look, io);
    let (text, exit) = match &outcome {
        Outcome::Planned(planned) => {
            let day = schedule_with(&problem, &planned.plan, &Crew::named(&words.labels));
            let view = View { problem: &problem, words: &words, planned, day: &day };
            let text = match args.format {
                Format::Text => sheet::planned(&view, look),
                Format::Json => json::planned(&view),
            };
            (text, Exit::Planned)
        }
        Outcome::Impossible(conflict) => {
            let text = match args.format {
                Format::Text => sheet::impossible(&words, conflict, look),
                Format::Json => json::impossible(&words, conflict),
            };
            (text, Exit::Impossible)
        }
        Outcome::Undecided(progress) => {
            let text = match args.format {
                Format::Text => sheet::undecided(&words, progress, look),
                Format::Json => json::undecided(&words, progress),
            };
            (text, Exit::Undecided)
        }
    };
    io.print(&text, exit)
}

fn search(problem: &rangewright::models::problem::Problem, args: &LimitArgs, io: &Io<'_>) -> Result<Outcome, Error> {
    let clock = io.clock;
    let seconds = args.time.or(if args.work.is_none() { Some(SECONDS) } else { None });
    let deadline = seconds.map(|seconds| clock() + Duration::from_secs_f64(seconds));
    let stop = move || deadline.is_some_and(|deadline| clock() >= deadline);
    let gap = args.gap.unwrap_or(0.0) * 10.0;
    solve(
        problem,
        &Limits {
            work: args.work,
            // At most 1000: percent are checked when the arguments are read.
            gap_per_mille: gap.round() as u32,
            stop: deadline.is_some().then_some(&stop),
            threads: usize::from(args.threads),
            ..Limits::default()
        },
    )
}

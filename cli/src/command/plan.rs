//! `rangewright plan`.

use std::time::Duration;

use rangewright::change::remedies;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::{Crew, schedule_with};
use rangewright::why::{Verdict, why_not};
use rangewright::{Conflict, Error, Limits, Outcome, solve};

use crate::args::{Format, LimitArgs, PlanArgs};
use crate::sheet::{self, No, View};
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
    let start = match args.start.as_deref().map(|path| input::saved_plan(path, io)).transpose() {
        Ok(start) => start,
        Err(refusal) => return io.complain(&refusal.text, refusal.exit),
    };
    let search = Search::new(&args.limits, io);
    let outcome = match solve(&problem, &Limits { start: start.as_ref(), ..search.limits() }) {
        Ok(outcome) => outcome,
        Err(error) => {
            let exit = if matches!(error, Error::Internal(_)) { Exit::Internal } else { Exit::BadInput };
            return io.complain(&format!("error: {error}\n"), exit);
        }
    };
    let look = super::look(&args.look, io);
    let (text, exit) = match outcome {
        Outcome::Planned(planned) => {
            let day = schedule_with(&problem, &planned.plan, &Crew::named(&words.labels));
            let view = View { problem: &problem, words: &words, planned: &planned, day: &day };
            let text = match args.format {
                Format::Text => sheet::planned(&view, look),
                Format::Json => json::planned(&view),
            };
            (text, Exit::Planned)
        }
        Outcome::Impossible(conflict) => {
            let no = why(&problem, conflict, &search);
            let text = match args.format {
                Format::Text => sheet::impossible(&problem, &words, &no, look),
                Format::Json => json::impossible(&words, &no),
            };
            (text, Exit::Impossible)
        }
        Outcome::Undecided(progress) => {
            let text = match args.format {
                Format::Text => sheet::undecided(&words, &progress, look),
                Format::Json => json::undecided(&words, &progress),
            };
            (text, Exit::Undecided)
        }
    };
    io.print(&text, exit)
}

/// The facts behind a "no" and what would help, as far as the limits reach.
fn why(problem: &Problem, conflict: Conflict, search: &Search<'_>) -> No {
    let explanation = match why_not(problem, &search.limits()) {
        Ok(Verdict::Because(explanation)) => Some(explanation),
        Ok(Verdict::Possible(_) | Verdict::Undecided) | Err(_) => None,
    };
    let remedies = explanation.as_ref().and_then(|explanation| remedies(problem, explanation, &search.limits()).ok());
    No { conflict, explanation, remedies: remedies.unwrap_or_default() }
}

/// The limits of a run of the command: the time is for everything it does.
struct Search<'a> {
    work: Option<u64>,
    gap_per_mille: u32,
    threads: usize,
    stop: Option<Box<dyn Fn() -> bool + Sync + 'a>>,
}

impl<'a> Search<'a> {
    fn new(args: &LimitArgs, io: &Io<'a>) -> Self {
        let clock = io.clock;
        let seconds = args.time.or(if args.work.is_none() { Some(SECONDS) } else { None });
        let deadline = seconds.map(|seconds| clock() + Duration::from_secs_f64(seconds));
        Search {
            work: args.work,
            // At most 1000: percents are checked when the arguments are read.
            gap_per_mille: (args.gap.unwrap_or(0.0) * 10.0).round() as u32,
            threads: usize::from(args.threads),
            stop: deadline.map(|deadline| Box::new(move || clock() >= deadline) as Box<dyn Fn() -> bool + Sync + 'a>),
        }
    }

    fn limits(&self) -> Limits<'_> {
        Limits {
            work: self.work,
            gap_per_mille: self.gap_per_mille,
            stop: self.stop.as_deref(),
            threads: self.threads,
            ..Limits::default()
        }
    }
}

//! `rangewright plan`.

use std::time::Duration;

use rangewright::change::remedies;
use rangewright::models::feast::Calendar;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::{Crew, schedule_with};
use rangewright::why::{Verdict, why_not};
use rangewright::{Conflict, Error, Limits, Outcome};

use super::watch;
use crate::args::{LimitArgs, PlanArgs, SheetFormat};
use crate::deliver::deliver;
use crate::evening::View;
use crate::formats::{self, Style};
use crate::sheet::{self, No};
use crate::words::Words;
use crate::{Exit, Io, input, json};

/// Without a limit of any kind the command gives up after so many seconds.
const SECONDS: f64 = 10.0;

pub(super) fn run(args: &PlanArgs, io: &mut Io<'_>) -> Exit {
    if args.format.len() > 1 && args.out.is_none() {
        let text = "error: several formats need a folder to go into: add --out FOLDER\n";
        return io.complain(text, Exit::BadInput);
    }
    let input = match input::read(args.menu.as_deref(), io) {
        Ok(input) => input,
        Err(refusal) => return io.complain(&refusal.text, refusal.exit),
    };
    let (problem, mut words) = (input.problem, input.words);
    if let Some(date) = args.date.filter(|_| !words.dated) {
        let zone = jiff::tz::TimeZone::get(&args.zone);
        match zone.ok().and_then(|zone| Calendar::new(date, zone, 0).ok()) {
            Some(calendar) => words = Words::of_dated_problem(&problem, calendar),
            None => {
                let text = format!("error: {:?} is no time zone; write one such as \"Europe/London\"\n", args.zone);
                return io.complain(&text, Exit::BadInput);
            }
        }
    }
    super::adapt(&mut words, &args.look);
    let crew = Crew::named(&words.labels);
    let only = match args.cook.as_deref().map(|name| cook(name, &crew)).transpose() {
        Ok(only) => only,
        Err(text) => return io.complain(&text, Exit::BadInput),
    };
    let start = match args.start.as_deref().map(|path| input::saved_plan(path, io)).transpose() {
        Ok(start) => start,
        Err(refusal) => return io.complain(&refusal.text, refusal.exit),
    };
    let search = Search::new(&args.limits, io);
    let outcome = match watch::solve(&problem, &Limits { start: start.as_ref(), ..search.limits() }, io) {
        Ok(outcome) => outcome,
        Err(error) => {
            let exit = if matches!(error, Error::Internal(_)) { Exit::Internal } else { Exit::BadInput };
            return io.complain(&format!("error: {error}\n"), exit);
        }
    };
    let look = super::look(&args.look, io);
    let json = args.format == [SheetFormat::Json];
    let (text, exit) = match outcome {
        Outcome::Planned(planned) => {
            let day = schedule_with(&problem, &planned.plan, &crew);
            let view = View { problem: &problem, words: &words, planned: &planned, day: &day };
            return hand_over(args, &view, Style { look, only, now: io.now }, io);
        }
        Outcome::Impossible(conflict) => {
            let no = why(&problem, conflict, &search);
            let text =
                if json { json::impossible(&words, &no) } else { sheet::impossible(&problem, &words, &no, look) };
            (text, Exit::Impossible)
        }
        Outcome::Undecided(progress) => {
            let text =
                if json { json::undecided(&words, &progress) } else { sheet::undecided(&words, &progress, look) };
            (text, Exit::Undecided)
        }
    };
    // A "no" is for people to read, whatever was to be made of a plan, and must not end up in a file that is none of it.
    let readable = args.out.is_some() || json || args.format == [SheetFormat::Text];
    if readable { io.print(&text, exit) } else { io.complain(&text, exit) }
}

/// Prints a plan, or writes it into a folder.
fn hand_over(args: &PlanArgs, view: &View<'_>, style: Style, io: &mut Io<'_>) -> Exit {
    let mut formats: Vec<SheetFormat> = Vec::new();
    for &format in &args.format {
        if !formats.contains(&format) {
            formats.push(format);
        }
    }
    let texts = match formats::render(view, &formats, style) {
        Ok(texts) => texts,
        Err(why) => return io.complain(&format!("error: {why}\n"), Exit::BadInput),
    };
    let Some(out) = &args.out else { return io.print(&texts.concat(), Exit::Planned) };
    let files: Vec<(&str, String)> = formats.iter().map(|format| formats::file_name(*format)).zip(texts).collect();
    match deliver(&io.folder.join(out), &files, args.overwrite) {
        Ok(_) => {
            let names: Vec<String> = files.iter().map(|(name, _)| format!("{}\n", out.join(name).display())).collect();
            io.print(&names.concat(), Exit::Planned)
        }
        Err(why) => io.complain(&format!("error: {why}\n"), Exit::Io),
    }
}

/// Which cook is called so.
fn cook(name: &str, crew: &Crew) -> Result<usize, String> {
    let same = |own: &str| own.to_lowercase() == name.to_lowercase();
    crew.cooks.iter().position(|cook| same(&cook.name)).ok_or_else(|| {
        let names: Vec<&str> = crew.cooks.iter().map(|cook| cook.name.as_str()).collect();
        format!("error: no cook is called {name:?}; the cooks are {}\n", names.join(", "))
    })
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
pub(super) struct Search<'a> {
    work: Option<u64>,
    gap_per_mille: u32,
    threads: usize,
    stop: Option<Box<dyn Fn() -> bool + Sync + 'a>>,
}

impl<'a> Search<'a> {
    pub(super) fn new(args: &LimitArgs, io: &Io<'a>) -> Self {
        Self::for_seconds(args, SECONDS, io)
    }

    /// With another default for the time.
    pub(super) fn for_seconds(args: &LimitArgs, default: f64, io: &Io<'a>) -> Self {
        let clock = io.clock;
        let seconds = args.time.or(if args.work.is_none() { Some(default) } else { None });
        let deadline = seconds.map(|seconds| clock() + Duration::from_secs_f64(seconds));
        Search {
            work: args.work,
            // At most 1000: percents are checked when the arguments are read.
            gap_per_mille: (args.gap.unwrap_or(0.0) * 10.0).round() as u32,
            threads: usize::from(args.threads),
            stop: deadline.map(|deadline| Box::new(move || clock() >= deadline) as Box<dyn Fn() -> bool + Sync + 'a>),
        }
    }

    pub(super) fn limits(&self) -> Limits<'_> {
        Limits {
            work: self.work,
            gap_per_mille: self.gap_per_mille,
            stop: self.stop.as_deref(),
            threads: self.threads,
            ..Limits::default()
        }
    }
}

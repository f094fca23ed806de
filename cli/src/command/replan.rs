//! `rangewright replan`.

use rangewright::models::caution::add_washing;
use rangewright::models::day::{Day, DayFault, Log, fold_with};
use rangewright::replan::{Replan, Replanned, replan};
use rangewright::{Error, Planned, StopReason};
use serde::Serialize;

use super::day;
use super::search::Search;
use crate::args::ReplanArgs;
use crate::evening::View;
use crate::formats::SheetFormat;
use crate::formats::{self, Style, Wishes};
use crate::input::{self, Input, Refusal, Saved, Wish};
use crate::json::{self, Asked};
use crate::sheet::{self, Page, Told};
use crate::words::Words;
use crate::{Exit, Io};

/// A cook waits for the answer: seconds of search, if there is any.
const SECONDS: f64 = 1.0;

pub(super) fn run(args: &ReplanArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer(args, io), Asked::Replan, args.format == SheetFormat::Json, io)
}

fn answer(args: &ReplanArgs, io: &mut Io<'_>) -> Result<(String, Exit), Refusal> {
    let wish = Wish { date: args.date, ..super::wish(&args.look) };
    let input = input::read(args.menu.as_deref(), wish, io)?;
    let Input { planner, mut words, .. } = input;
    let problem = planner.problem();
    super::adapt(&mut words, &args.look);
    let Saved { plan, schedule: told, whole, .. } = input::saved_evening(&args.plan, problem, io)?;
    let unplanned = problem.steps.iter().find(|step| whole && !plan.steps.contains_key(&step.id));
    if let Some(step) = unplanned {
        let (shown, title) = (args.plan.display(), words.title(&step.id));
        let text =
            format!("error: the menu has changed since {shown} was made: \"{title}\" is not planned. Plan anew\n");
        return Err(Refusal::new(text, Exit::BadInput));
    }
    let log = args.log.as_deref().map_or(Ok(Log::default()), |path| day::read(path, io))?;
    let now = day::minute(args.now.as_deref(), "--now", problem, &words, io)?;
    let roasts = planner.labels().roasts();
    let stands = fold_with(problem, &plan, &log.entries, now, &roasts).map_err(|faults| {
        let said = |fault: &DayFault| format!("error: entry {} of the log: {}\n", fault.entry, day::why(fault, &words));
        let lines: Vec<String> = faults.iter().map(said).collect();
        Refusal::new(lines.concat(), Exit::BadInput)
    })?;
    // Whoever was told something keeps it, also over several new plans.
    let crew = told.map_or_else(|| planner.crew().clone(), |earlier| planner.crew().used_to(&earlier));
    let search = Search::for_seconds(&args.limits, SECONDS, io);
    let replanned = replan(problem, &plan, &stands, &crew, &search.limits()).map_err(|error| {
        let exit = if matches!(error, Error::Internal(_)) { Exit::Internal } else { Exit::BadInput };
        Refusal::new(format!("error: {error}\n"), exit)
    })?;
    match replanned {
        Replanned::Over => no_plan(args, &words, "over", "Every course has been served.\n", Exit::Planned),
        Replanned::Hopeless => {
            let text = "There is no plan of the rest, however late: something or somebody that it needs is missing. Log what \
                        works again or who is back, or drop a dish with `log FILE dropped DISH`, and ask again. Until then keep \
                        ovens and refrigerators shut, and cool what can no longer be kept hot.\n";
            no_plan(args, &words, "impossible", text, Exit::Impossible)
        }
        Replanned::Undecided => {
            let text = "No plan of the rest was found in the time given. Ask again with more: --time 10.\n";
            no_plan(args, &words, "undecided", text, Exit::Undecided)
        }
        Replanned::Planned(mut replan) => {
            add_washing(&mut replan.schedule, &replan.problem, planner.labels(), &replan.plan);
            let told = Told { plan: &plan, problem };
            Ok((show(args, &replan, &stands, &told, words, io)?, Exit::Planned))
        }
    }
}

/// There is no plan of the rest: said in words or as data, but not in a file that was to be something else.
fn no_plan(
    args: &ReplanArgs,
    words: &Words,
    outcome: &'static str,
    text: &str,
    exit: Exit,
) -> Result<(String, Exit), Refusal> {
    match args.format {
        SheetFormat::Text => Ok((text.to_owned(), exit)),
        SheetFormat::Json => Ok((json::not_replanned(words, outcome), exit)),
        _ => Err(Refusal::new(text, exit)),
    }
}

fn show(
    args: &ReplanArgs,
    replan: &Replan,
    stands: &Day,
    told: &Told<'_>,
    mut words: Words,
    io: &Io<'_>,
) -> Result<String, Refusal> {
    if args.format == SheetFormat::Json {
        #[derive(Serialize)]
        struct Answer<'a> {
            #[serde(flatten)]
            replan: &'a Replan,
            day: &'a Day,
        }
        return Ok(json::replanned(&words, replan, &Answer { replan, day: stands }));
    }
    let look = super::look(&args.look, io);
    let mut page = Page::new(look);
    sheet::alarms(replan, &words, &mut page);
    for care in crate::evening::care::of(&replan.problem, &words, &words.labels, &replan.plan) {
        if care.broken() {
            page.line(&format!("! {}: {} [{}]", care.head(), care.caution.text, care.caution.source.cited()));
        }
    }
    sheet::news(replan, stands, told, &words, &mut page);
    let mut text = page.finish();
    if args.brief {
        return Ok(text);
    }
    mark(replan, &mut words);
    let mut whole = replan.schedule.clone();
    whole.jobs.retain(|job| job.at >= replan.now || job.until > replan.now);
    let stopped_by = if replan.proved { StopReason::Proof } else { StopReason::Work };
    let planned = Planned { plan: replan.plan.clone(), stopped_by, work: 0 };
    let view = View { problem: &replan.problem, words: &words, planned: &planned, day: &whole };
    let style = Style { look, only: None, wishes: Wishes::default(), now: io.now };
    let sheets = formats::render(&view, &[args.format], style)
        .map_err(|why| Refusal::new(format!("error: {why}\n"), Exit::BadInput))?
        .concat();
    if args.format == SheetFormat::Text {
        text.push('\n');
        text.push_str(&sheets);
        Ok(text)
    } else {
        Ok(sheets)
    }
}

/// Every sheet shows what is new: as a note of the step.
fn mark(replan: &Replan, words: &mut Words) {
    for moved in &replan.moved {
        let was = words.clock_from(replan.now, moved.from.start);
        let ended = words.clock_from(replan.now, moved.from.end);
        let text = if moved.running {
            format!("NEW: it was to be done at {ended}")
        } else if moved.from.start == moved.to.as_ref().map_or(moved.from.start, |to| to.start) {
            format!("NEW: it was to end at {ended}")
        } else {
            format!("NEW: it was to start at {was}")
        };
        if let Some(label) = words.labels.steps.get_mut(&moved.step) {
            label.note = Some(label.note.take().map_or(text.clone(), |note| format!("{text}. {note}")));
        }
    }
}

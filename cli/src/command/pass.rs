//! `rangewright pass`.

use clap::CommandFactory;
use rangewright::models::day::{DayFault, Log, fold_with};
use rangewright::{Planned, StopReason};

use super::day;
use crate::args::{Args, AskFormat, PassArgs};
use crate::evening::View;
use crate::input::{self, Input, Refusal, Saved};
use crate::json::{self, Asked};
use crate::pass::{Event, Field, Pass};
use crate::sheet::{self, Page};
use crate::{Exit, Io};

pub(super) fn run(args: &PassArgs, io: &mut Io<'_>) -> Exit {
    let answer = answer(args, io).map(|text| (text, Exit::Planned));
    super::tell(answer, Asked::Pass, args.format == AskFormat::Json, io)
}

fn answer(args: &PassArgs, io: &mut Io<'_>) -> Result<String, Refusal> {
    let Input { planner, mut words, .. } = input::read(args.menu.as_deref(), super::wish(&args.look), io)?;
    let problem = planner.problem();
    super::adapt(&mut words, &args.look);
    let cook = args.cook.as_deref().map(|name| super::cook_called(name, &words)).transpose()?;
    let Saved { plan, schedule, .. } = input::saved_evening(&args.plan, problem, io)?;
    let log = args.log.as_deref().map_or(Ok(Log::default()), |path| day::read(path, io))?;
    let now = day::shown(args.now.as_deref(), &words, io)?;
    let roasts = planner.labels().roasts();
    let stands = fold_with(problem, &plan, &log.entries, now, &roasts).map_err(|faults| {
        let said = |fault: &DayFault| format!("error: entry {} of the log: {}\n", fault.entry, day::why(fault, &words));
        Refusal::new(faults.iter().map(said).collect::<Vec<_>>().concat(), Exit::BadInput)
    })?;
    let sheet = schedule.unwrap_or_else(|| planner.schedule(&plan));
    let planned = Planned { plan, stopped_by: StopReason::Work, work: 0 };
    let view = View { problem, words: &words, planned: &planned, day: &sheet };
    let pass = Pass::new(&view, &stands, events());
    if args.format == AskFormat::Json {
        return Ok(json::pass(&words, &pass));
    }
    let mut page = Page::new(super::look(&args.look, io));
    sheet::pass(&pass, cook, &mut page);
    Ok(page.finish())
}

/// What `log` takes, as its help has it.
fn events() -> Vec<Event> {
    let command = Args::command();
    let events = command.find_subcommand("log").into_iter().flat_map(clap::Command::get_subcommands);
    events.filter(|event| event.get_name() != "help").map(event).collect()
}

fn event(command: &clap::Command) -> Event {
    let said = |text: Option<&clap::builder::StyledStr>| text.map_or(String::new(), ToString::to_string);
    // What every event takes beside its own is the command's, not the event's.
    let own = command.get_arguments().filter(|arg| !arg.is_global_set() && arg.get_id() != "help");
    let fields = own.map(|arg| Field {
        name: arg.get_id().to_string(),
        about: said(arg.get_help()),
        option: arg.get_long().map(|long| format!("--{long}")),
        needed: arg.is_required_set(),
    });
    Event { event: command.get_name().to_owned(), about: said(command.get_about()), fields: fields.collect() }
}

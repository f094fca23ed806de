//! `rangewright log`.

use std::collections::BTreeMap;
use std::io::Write;

use rangewright::models::day::{Entry, Event, Untrue, fold, line};
use rangewright::models::plan::{Plan, Status};
use rangewright::models::problem::{Minute, Problem};
use serde::Serialize;

use super::day;
use crate::args::{AskFormat, EventArgs, LogArgs};
use crate::input::{self, Refusal, Wish};
use crate::json::{self, Asked};
use crate::plain::TIED;
use crate::words::Words;
use crate::{Exit, Io, names, sheet};

pub(super) fn run(args: &LogArgs, io: &mut Io<'_>) -> Exit {
    let as_data = args.format == AskFormat::Json;
    let answer = answer(args, io).map(|(outcome, entries, words)| {
        let told: Vec<Told<'_>> = entries.iter().map(|entry| Told::new(entry, &words)).collect();
        let text = match as_data {
            true => json::log(&words, outcome, &told),
            false => told.iter().map(|own| format!("{}  {}\n", own.clock, own.text)).collect(),
        };
        (text, Exit::Planned)
    });
    super::tell(answer, Asked::Log, as_data, io)
}

/// An entry, as the log has it and as people read it.
#[derive(Serialize)]
struct Told<'a> {
    #[serde(flatten)]
    entry: &'a Entry,
    clock: String,
    text: String,
}

impl<'a> Told<'a> {
    fn new(entry: &'a Entry, words: &Words) -> Self {
        let text = sheet::logged(words, &entry.event).replace(TIED, " ");
        Told { entry, clock: words.clock(entry.at), text }
    }
}

/// The entries to print: all of them, or the one that was added.
fn answer(args: &LogArgs, io: &mut Io<'_>) -> Result<(&'static str, Vec<Entry>, Words), Refusal> {
    let shown = args.log.display().to_string();
    let failed =
        |error: std::io::Error| Refusal::new(format!("error: {shown}: {}\n", crate::io::reason(&error)), Exit::Io);
    let path = io.folder.join(&args.log);
    let bytes = if args.event.is_some() && !path.exists() {
        Vec::new()
    } else {
        let failed =
            |error: crate::io::Unreadable| Refusal::new(format!("error: {shown}: {}\n", error.why), error.exit);
        io.bytes(&args.log, input::LONGEST).map_err(failed)?
    };
    let mut log = day::understand(&shown, &bytes, io)?;
    let input = input::read(args.menu.as_deref(), Wish { date: args.date, ..Wish::default() }, io)?;
    let Some(event) = &args.event else { return Ok(("log", log.entries, input.words)) };
    let event = named(event, &log.entries, input.problem(), &input.words)
        .map_err(|refusal| Refusal::new(format!("{}Nothing was logged.\n", refusal.text), refusal.exit))?;
    let at = day::minute(args.at.as_deref(), "--at", input.problem(), &input.words, io)?;
    let entry = match &args.event {
        Some(EventArgs::DoneBy { time, .. }) => by(event, day::shown(Some(time), &input.words, io)?, at),
        _ => Entry { at, event },
    };
    let added = line(&bytes, &entry);
    log.entries.push(entry.clone());
    // No plan is needed to see whether the problem has such a step.
    let plan = Plan {
        steps: BTreeMap::new(),
        served: BTreeMap::new(),
        hands: Vec::new(),
        lateness: 0,
        waiting: 0,
        hot: 0,
        bounds: [0; 3],
        status: Status::Feasible,
        made_for: None,
    };
    let faults = fold(input.problem(), &plan, &log.entries, i64::MAX).err().unwrap_or_default();
    if let Some(fault) = faults.iter().find(|fault| fault.entry == log.entries.len()) {
        return Err(Refusal::new(
            format!("error: {}; nothing was logged\n", day::why(fault, &input.words)),
            Exit::BadInput,
        ));
    }
    if let Some(fault) = faults.iter().find(|fault| is_of_another_menu(&fault.why)).filter(|_| args.menu.is_none()) {
        let why = day::why(fault, &input.words);
        let text = format!(
            "error: {shown} is the log of another menu than the built-in supper ({why}): name its menu with --menu; nothing was \
             logged\n"
        );
        return Err(Refusal::new(text, Exit::BadInput));
    }
    // One write at the end of the file, and no more: a crash leaves at worst a line that is cut off.
    let open = std::fs::OpenOptions::new().create(true).append(true).open(&path);
    let written = open.and_then(|mut file| file.write_all(&added).and_then(|()| file.sync_data()));
    written.map_err(failed)?;
    Ok(("noted", vec![entry], input.words))
}

/// That a step is done by a time: a fact, or what is expected.
fn by(event: Event, time: Minute, at: Minute) -> Entry {
    match event {
        Event::Finished { step } if time > at => Entry { at, event: Event::Needs { step, minutes: time - at } },
        event => Entry { at: time, event },
    }
}

/// How many of the guests: a number, or half of them.
fn some(text: &str, guests: i64) -> Result<i64, Refusal> {
    let count = if text.eq_ignore_ascii_case("half") { Some(guests / 2) } else { text.trim().parse().ok() };
    count.filter(|count| (1..=guests).contains(count)).ok_or_else(|| {
        let text = format!("error: {text:?} of {guests} guests: write a number of them, or \"half\"\n");
        Refusal::new(text, Exit::BadInput)
    })
}

/// Whether an entry names something that this menu does not have.
fn is_of_another_menu(why: &Untrue) -> bool {
    matches!(why, Untrue::NoStep { .. } | Untrue::NoPlace { .. } | Untrue::NoDish { .. } | Untrue::NoCourse { .. })
}

/// The event, by the ids of the problem. What a name leaves open, the log and the sort of event often settle: what is done is
/// what was begun, and a thermometer is in what roasts.
fn named(event: &EventArgs, log: &[Entry], problem: &Problem, words: &Words) -> Result<Event, Refusal> {
    let begun = |id: &str| {
        let of = |entry: &Entry| match &entry.event {
            Event::Started { step, .. } | Event::PutIn { step, .. } | Event::Needs { step, .. } => step == id,
            _ => false,
        };
        log.iter().any(of)
    };
    let done = |id: &str| {
        log.iter().any(|entry| match &entry.event {
            Event::Finished { step } | Event::TakenOut { step } => step == id,
            _ => false,
        })
    };
    let own = |id: &str| problem.steps.iter().find(|step| step.id == id);
    let running = |id: &str| begun(id) && !done(id);
    let fresh = |id: &str| !begun(id) && !done(id);
    let goes_in =
        |id: &str| fresh(id) && own(id).is_some_and(|step| step.modes.iter().any(|mode| mode.place.is_some()));
    let roasts = |id: &str| own(id).is_some_and(|step| step.kind == "roast");
    let undone = |id: &str| !done(id);
    let any = |_: &str| false;
    let guests = words.labels.guests.max(1);
    let of_course = |name: &String| names::course(problem, words, name);
    let step = |name: &String, likely: names::Likely<'_>| names::step(problem, words, name, likely);
    let place = |name: &String| names::place(problem, words, name);
    let cook = |name: &String| names::cook(words, name);
    Ok(match event {
        EventArgs::Started { step: own } => Event::Started { step: step(own, &fresh)?, mode: None },
        EventArgs::Finished { step: own } => Event::Finished { step: step(own, &running)? },
        EventArgs::PutIn { step: own, place: to } => {
            Event::PutIn { step: step(own, &goes_in)?, place: to.as_ref().map(place).transpose()? }
        }
        EventArgs::TakenOut { step: own } => Event::TakenOut { step: step(own, &running)? },
        EventArgs::Needs { step: own, minutes } => Event::Needs { step: step(own, &running)?, minutes: *minutes },
        EventArgs::Probe { step: own, core, to, from } => {
            Event::Probe { step: step(own, &roasts)?, core: *core, target: *to, from: *from }
        }
        EventArgs::OvenReads { place, degrees } => {
            Event::OvenReads { place: names::cavity(problem, words, place)?, degrees: *degrees }
        }
        EventArgs::DoneBy { step: own, .. } => Event::Finished { step: step(own, &undone)? },
        EventArgs::NotHeated { place } => Event::NotHeated { place: names::cavity(problem, words, place)? },
        EventArgs::GuestsLate { minutes, course, only } => {
            let only = only.as_ref().map(|only| some(only, guests)).transpose()?;
            Event::GuestsLate { minutes: *minutes, only, course: course.as_ref().map(of_course).transpose()? }
        }
        EventArgs::GuestsEarly { minutes, course } => {
            Event::GuestsEarly { minutes: *minutes, course: course.as_ref().map(of_course).transpose()? }
        }
        EventArgs::Swapped { step: own, cook: to } => Event::Swapped { step: step(own, &undone)?, cook: cook(to)? },
        EventArgs::Slower { cook: own, percent } => Event::Slower { cook: cook(own)?, percent: *percent },
        EventArgs::FewerGuests { fewer } => Event::FewerGuests { fewer: some(fewer, guests)?, of: guests },
        EventArgs::Broken { place: own, burners } => Event::Broken { place: place(own)?, burners: *burners },
        EventArgs::Repaired { place: own } => Event::Repaired { place: place(own)? },
        EventArgs::PowerOff => Event::PowerOff,
        EventArgs::PowerOn => Event::PowerOn,
        EventArgs::Gone { cook: own } => Event::Gone { cook: cook(own)? },
        EventArgs::Back { cook: own } => Event::Back { cook: cook(own)? },
        EventArgs::Burnt { step: own } => Event::Burnt { step: step(own, &running)? },
        EventArgs::Again { step: own } => Event::Again { step: step(own, &running)? },
        EventArgs::MoreGuests { more } => Event::MoreGuests { more: *more, of: guests },
        EventArgs::Undo => Event::Undo,
        EventArgs::Dropped { dish } => Event::Dropped { dish: names::dish(problem, words, dish)? },
        EventArgs::Served { course } => Event::Served { course: of_course(course)? },
        EventArgs::Mistaken { step: own } => Event::Mistaken { step: step(own, &any)? },
    })
}

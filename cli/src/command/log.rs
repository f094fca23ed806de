//! `rangewright log`.

use std::collections::BTreeMap;
use std::io::Write;

use rangewright::models::day::{Entry, Event, fold, line};
use rangewright::models::plan::{Plan, Status};

use super::day;
use crate::args::{EventArgs, LogArgs};
use crate::input::{self, Refusal};
use crate::{Exit, Io};

pub(super) fn run(args: &LogArgs, io: &mut Io<'_>) -> Exit {
    match answer(args, io) {
        Ok(text) => io.print(&text, Exit::Planned),
        Err(refusal) => io.complain(&refusal.text, refusal.exit),
    }
}

fn answer(args: &LogArgs, io: &mut Io<'_>) -> Result<String, Refusal> {
    let shown = args.log.display().to_string();
    let failed = |error: std::io::Error| Refusal::new(format!("error: {shown}: {error}\n"), Exit::Io);
    let path = io.folder.join(&args.log);
    let bytes = match std::fs::read(&path) {
        Err(error) if error.kind() == std::io::ErrorKind::NotFound && args.event.is_some() => Vec::new(),
        read => read.map_err(failed)?,
    };
    let mut log = day::understand(&shown, &bytes, io)?;
    let input = input::read(args.menu.as_deref(), io)?;
    let said = |entry: &Entry| {
        let text = String::from_utf8(line(&[], entry)).unwrap_or_default();
        format!("{}  {}", input.words.clock(entry.at), text)
    };
    let Some(event) = &args.event else {
        return Ok(log.entries.iter().map(said).collect::<Vec<_>>().concat());
    };
    let entry = Entry { at: day::minute(args.at.as_deref(), &input.words, io)?, event: named(event) };
    let added = line(&bytes, &entry);
    log.entries.push(entry.clone());
    // No plan is needed to see whether the problem has such a step.
    let plan = Plan {
        steps: BTreeMap::new(),
        served: BTreeMap::new(),
        lateness: 0,
        waiting: 0,
        hot: 0,
        bounds: [0; 3],
        status: Status::Feasible,
    };
    if let Err(faults) = fold(&input.problem, &plan, &log.entries, i64::MAX)
        && let Some(fault) = faults.iter().find(|fault| fault.entry == log.entries.len())
    {
        return Err(Refusal::new(format!("error: {}; nothing was logged\n", fault.why), Exit::BadInput));
    }
    // One write at the end of the file, and no more: a crash leaves at worst a line that is cut off.
    let open = std::fs::OpenOptions::new().create(true).append(true).open(&path);
    let written = open.and_then(|mut file| file.write_all(&added).and_then(|()| file.sync_data()));
    written.map_err(failed)?;
    Ok(said(&entry))
}

fn named(event: &EventArgs) -> Event {
    match event {
        EventArgs::Started { step } => Event::Started { step: step.clone(), mode: None },
        EventArgs::Finished { step } => Event::Finished { step: step.clone() },
        EventArgs::PutIn { step, place } => Event::PutIn { step: step.clone(), place: place.clone() },
        EventArgs::TakenOut { step } => Event::TakenOut { step: step.clone() },
        EventArgs::Needs { step, minutes } => Event::Needs { step: step.clone(), minutes: *minutes },
        EventArgs::Probe { step, core, to, from } => {
            Event::Probe { step: step.clone(), core: *core, target: *to, from: *from }
        }
        EventArgs::OvenReads { place, degrees } => Event::OvenReads { place: place.clone(), degrees: *degrees },
        EventArgs::GuestsLate { minutes, course } => Event::GuestsLate { minutes: *minutes, course: course.clone() },
        EventArgs::Broken { place, burners } => Event::Broken { place: place.clone(), burners: *burners },
        EventArgs::Dropped { dish } => Event::Dropped { dish: dish.clone() },
        EventArgs::Served { course } => Event::Served { course: course.clone() },
        EventArgs::Mistaken { step } => Event::Mistaken { step: step.clone() },
    }
}

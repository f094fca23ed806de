//! What the commands for the day itself share.

use std::path::Path;

use jiff::Timestamp;
use rangewright::models::day::{self, DayFault, Log};
use rangewright::models::problem::{Minute, Problem};
use rangewright::models::units;

use crate::input::{self, Refusal};
use crate::words::Words;
use crate::{Exit, Io};

/// Farther from the first and the last minute of a menu than this, the clock shows another day.
const FAR: Minute = 24 * 60;

/// The minute of a clock time, or of now. What the clock shows is refused on a day that is not the menu's; `flag` says the time.
pub(super) fn minute(
    said: Option<&str>,
    flag: &str,
    problem: &Problem,
    words: &Words,
    io: &Io<'_>,
) -> Result<Minute, Refusal> {
    let minute = shown(said, words, io)?;
    let last = problem.courses.iter().map(|course| course.serve).max().unwrap_or(problem.opening);
    if said.is_some() || (problem.opening - FAR..=last + FAR).contains(&minute) {
        return Ok(minute);
    }
    let calendar = &words.labels.calendar;
    let (today, feast) = (calendar.civil(minute).date(), calendar.feast_day());
    Err(bad(&format!(
        "the clock shows {today}, and the menu is for {feast}. If it is cooked today, say so with --date {today}; if not, \
         say the time with {flag}"
    )))
}

/// The minute of a clock time, or of now on whatever day: for who only looks.
pub(super) fn shown(said: Option<&str>, words: &Words, io: &Io<'_>) -> Result<Minute, Refusal> {
    let calendar = &words.labels.calendar;
    match said {
        Some(text) => {
            let clock = units::clock(text).map_err(|error| bad(&format!("{error}; write it like \"16:10\"")))?;
            calendar.minute(clock).map_err(|error| bad(&format!("{text}: {error}")))
        }
        None if !words.dated => Err(bad("a bare problem has no date: say the time with --now or --at")),
        None => {
            let now = Timestamp::try_from(io.now).map_err(|error| bad(&error.to_string()))?;
            Ok(now.duration_since(calendar.moment(0).timestamp()).as_mins())
        }
    }
}

fn bad(text: &str) -> Refusal {
    Refusal::new(format!("error: {text}\n"), Exit::BadInput)
}

/// What is wrong with an entry, with names in place of the ids that the log itself has.
pub(super) fn why(fault: &DayFault, words: &Words) -> String {
    fault.why.named(|step| words.title(step), |place| words.place(place))
}

/// Reads a log; lines that were cut off are complained about and left out.
pub(super) fn read(path: &Path, io: &mut Io<'_>) -> Result<Log, Refusal> {
    let shown = path.display().to_string();
    let bytes = io.bytes(path, input::LONGEST).map_err(|error| {
        Refusal::new(
            format!(
                "error: cannot read {shown}: {}
",
                error.why
            ),
            error.exit,
        )
    })?;
    understand(&shown, &bytes, io)
}

/// What the bytes of a log say.
pub(super) fn understand(shown: &str, bytes: &[u8], io: &mut Io<'_>) -> Result<Log, Refusal> {
    let log = day::read(bytes).map_err(|faults| {
        let lines: Vec<String> = faults.iter().map(|fault| format!("error: {shown}: {fault}\n")).collect();
        let remedy =
            format!("Lines of a log are what `rangewright log {shown} EVENT` adds. Correct these, or take them out.\n");
        Refusal::new(lines.concat() + &remedy, Exit::BadInput)
    })?;
    for line in &log.torn {
        io.complain(&format!("warning: {shown}: line {line} was cut off and is left out\n"), Exit::Planned);
    }
    Ok(log)
}

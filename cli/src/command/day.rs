//! What the commands for the day itself share.

use std::path::Path;

use jiff::Timestamp;
use rangewright::models::day::{self, DayFault, Log};
use rangewright::models::problem::Minute;
use rangewright::models::units;

use crate::input::{self, Refusal};
use crate::words::Words;
use crate::{Exit, Io};

/// The minute of a clock time, or of now.
pub(super) fn minute(said: Option<&str>, words: &Words, io: &Io<'_>) -> Result<Minute, Refusal> {
    let bad = |text: String| Refusal::new(format!("error: {text}\n"), Exit::BadInput);
    let calendar = &words.labels.calendar;
    match said {
        Some(text) => {
            let clock = units::clock(text).map_err(|error| bad(format!("{error}; write it like \"16:10\"")))?;
            calendar.minute(clock).map_err(|error| bad(format!("{text}: {error}")))
        }
        None if !words.dated => Err(bad("a bare problem has no date: say the time with --now or --at".to_owned())),
        None => {
            let now = Timestamp::try_from(io.now).map_err(|error| bad(error.to_string()))?;
            Ok(now.duration_since(calendar.moment(0).timestamp()).as_mins())
        }
    }
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

//! The answer where there is no plan to speak of.

use rangewright::change::remedies;
use rangewright::models::problem::Problem;
use rangewright::why::{Verdict, why_not};
use rangewright::{Conflict, Progress};

use super::search::Search;
use crate::args::{AskArgs, AskFormat};
use crate::json::{self, Asked};
use crate::sheet::{self, No};
use crate::words::Words;
use crate::{Exit, Io};

/// The facts behind a "no" and what would help, as far as the limits reach.
pub(super) fn why(problem: &Problem, conflict: Conflict, search: &Search<'_>) -> No {
    let explanation = match why_not(problem, &search.limits()) {
        Ok(Verdict::Because(explanation)) => Some(explanation),
        Ok(Verdict::Possible(_) | Verdict::Undecided) | Err(_) => None,
    };
    let remedies = explanation.as_ref().and_then(|explanation| remedies(problem, explanation, &search.limits()).ok());
    No { conflict, explanation, remedies: remedies.unwrap_or_default() }
}

/// It is proved that there is none.
pub(super) fn impossible(
    problem: &Problem,
    words: &Words,
    conflict: Conflict,
    asked: Asked,
    search: &Search<'_>,
    args: &AskArgs,
    io: &Io<'_>,
) -> (String, Exit) {
    let no = why(problem, conflict, search);
    let text = match args.format {
        AskFormat::Text => sheet::impossible(problem, words, &no, super::look(&args.look, io)),
        AskFormat::Json => json::impossible(asked, problem, words, &no),
    };
    (text, Exit::Impossible)
}

/// A limit came first.
pub(super) fn undecided(
    words: &Words,
    progress: &Progress,
    asked: Asked,
    args: &AskArgs,
    io: &Io<'_>,
) -> (String, Exit) {
    let text = match args.format {
        AskFormat::Text => sheet::undecided(words, progress, super::look(&args.look, io)),
        AskFormat::Json => json::undecided(asked, words, progress),
    };
    (text, Exit::Undecided)
}

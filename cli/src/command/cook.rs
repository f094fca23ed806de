//! What the commands about one dish share.

use rangewright::models::cook::Fault;
use rangewright::models::cook::safety::{Caution, DEFERENCE, Weight};
use rangewright::models::feast::Units;
use serde::Serialize;

use super::said;
use crate::args::{AnswerArgs, AskFormat, LookArgs, UnitsArg};
use crate::input::Refusal;
use crate::json::Asked;
use crate::sheet::Page;
use crate::{Exit, Io};

/// Prints an answer or a refusal.
pub(super) fn print(answer: Result<String, Refusal>, asked: Asked, args: &AnswerArgs, io: &mut Io<'_>) -> Exit {
    super::tell(answer.map(|text| (text, Exit::Planned)), asked, args.format == AskFormat::Json, io)
}

/// Every fault of the input of a model on its own line, by the options that gave it.
pub(super) fn refuse_input(faults: &[Fault]) -> Refusal {
    refuse(&faults.iter().map(said::fault).collect::<Vec<_>>(), Exit::BadInput)
}

/// Every fault on its own line.
pub(super) fn refuse(faults: &[impl ToString], exit: Exit) -> Refusal {
    let lines: Vec<String> = faults.iter().map(|fault| format!("error: {}\n", fault.to_string())).collect();
    Refusal::new(lines.concat(), exit)
}

/// A temperature of food, to the degree.
pub(super) fn degrees(look: &LookArgs, celsius: f64) -> String {
    match look.units {
        Some(UnitsArg::Customary) => format!("{:.0} F", celsius * 1.8 + 32.0),
        _ => format!("{celsius:.0} C"),
    }
}

/// A temperature of an oven, as dials are marked.
pub(super) fn dial(look: &LookArgs, celsius: i64) -> String {
    let units = match look.units {
        Some(UnitsArg::Customary) => Units::Customary,
        _ => Units::Metric,
    };
    units.temperature(celsius)
}

/// The word of the library's data, as a cook writes it.
pub(super) fn named(word: &impl Serialize) -> String {
    let word = serde_json::to_value(word).ok();
    word.as_ref().and_then(|word| word.as_str()).unwrap_or("dish").replace('_', " ")
}

/// Minutes as a table shows them.
pub(super) fn range(early: i64, late: i64) -> String {
    format!("{early}-{late}")
}

/// Cautions, the gravest first, each with its source.
pub(super) fn cautions(page: &mut Page, cautions: &[&Caution]) {
    page.heading("Cautions");
    let mut sorted: Vec<&&Caution> = cautions.iter().collect();
    sorted.sort_by_key(|caution| std::cmp::Reverse(caution.weight));
    for caution in sorted {
        let mark = if caution.weight == Weight::Breach { "LIMIT BROKEN: " } else { "" };
        page.point(&format!("{mark}{} [{}]", caution.text, caution.source.cited()));
    }
    page.point(DEFERENCE);
}

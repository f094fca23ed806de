//! What an answer says is read back as the library's own types, and written again it is the same.

use rangewright::ask::{Alternative, Sharing, Soonest};
use rangewright::change::{Change, Help};
use rangewright::margins::Margins;
use rangewright::mend::Mend;
use rangewright::models::caution::PlanCaution;
use rangewright::models::check::Cost;
use rangewright::models::cook::chill::Cooling;
use rangewright::models::cook::portions::{Amount, Split};
use rangewright::models::cook::roast::{Forecast, Reforecast};
use rangewright::models::day::{Day, Entry};
use rangewright::models::faults::{Fault, Faults};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::Schedule;
use rangewright::odds::Odds;
use rangewright::outcome::Reason;
use rangewright::replan::Replan;
use rangewright::slack::Slack;
use rangewright::why::Fact;
use rangewright::{Progress, StopReason};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Reads a part of an answer and writes it again: what comes out, or why it cannot be read.
type Back = fn(&Value) -> Result<Value, serde_json::Error>;

fn back<T: Serialize + DeserializeOwned>(part: &Value) -> Result<Value, serde_json::Error> {
    serde_json::to_value(T::deserialize(part)?)
}

/// The types behind the answers to a question, and where they stand in it.
fn types(command: &str, outcome: &str) -> Vec<(&'static str, Back)> {
    match (command, outcome) {
        ("plan", "planned") => vec![
            ("/stopped_by", back::<StopReason>),
            ("/plan", back::<Plan>),
            ("/schedule", back::<Schedule>),
            ("/cautions", back::<Vec<PlanCaution>>),
            ("/odds", back::<Odds>),
            ("/margins", back::<Option<Margins>>),
        ],
        ("plan", "refused") => vec![("/mends", back::<Vec<Mend>>)],
        (_, "impossible") if command != "replan" => vec![
            ("/reasons", back::<Vec<Reason>>),
            ("/facts", back::<Option<Vec<Fact>>>),
            ("/remedies", back::<Vec<Vec<Change>>>),
        ],
        ("plan" | "soonest" | "why" | "odds", "undecided") => vec![("", back::<Progress>)],
        ("share", _) => vec![
            ("/cavities", back::<Vec<Sharing>>),
            ("/problem", back::<Problem>),
            ("/forecasts", back::<Option<Vec<Forecast>>>),
        ],
        ("soonest", _) => vec![("", back::<Soonest>)],
        ("why", _) => vec![("/alternatives", back::<Vec<Alternative>>)],
        ("worth", _) => vec![("", back::<Help>)],
        ("odds", _) => {
            vec![
                ("/plan", back::<Plan>),
                ("/odds", back::<Odds>),
                ("/slack", back::<Vec<Slack>>),
                ("/margins", back::<Option<Margins>>),
            ]
        }
        ("replan", "replanned") => vec![("", back::<Replan>), ("/day", back::<Day>)],
        ("check", "sound") => vec![("/doubts", back::<Vec<Fault>>), ("/cost", back::<Option<Cost>>)],
        ("log", "log" | "noted") => vec![("/entries/0", entry)],
        (_, "faults") => vec![("/faults", back::<Faults>)],
        ("chill", _) => vec![("", back::<Cooling>)],
        ("portions", _) => vec![("/mains/0/amount", back::<Amount>), ("/mains/0/pans", back::<Option<Split>>)],
        _ => Vec::new(),
    }
}

/// An entry is a line of the log, and beside it stand words.
fn entry(part: &Value) -> Result<Value, serde_json::Error> {
    let mut line = part.clone();
    for word in ["clock", "text"] {
        line.as_object_mut().and_then(|fields| fields.remove(word));
    }
    back::<Entry>(&line)
}

/// Whether all that was written stands in the answer.
fn within(written: &Value, answer: &Value) -> bool {
    match (written, answer) {
        (Value::Object(own), Value::Object(answer)) => {
            own.iter().all(|(field, part)| answer.get(field).map_or(part.is_null(), |other| within(part, other)))
        }
        (Value::Array(own), Value::Array(answer)) => {
            own.len() == answer.len() && own.iter().zip(answer).all(|(part, other)| within(part, other))
        }
        _ => written == answer,
    }
}

/// Reads the parts of an answer back; says how many.
pub(super) fn comes_back(answer: &Value) -> usize {
    let [command, outcome] = ["command", "outcome"].map(|field| answer[field].as_str().unwrap_or_default());
    let mut types = types(command, outcome);
    if command == "roast" && outcome == "answered" {
        types.push(("", if answer.get("ways").is_some() { back::<Forecast> } else { back::<Reforecast> }));
    }
    for (at, back) in &types {
        let part = answer.pointer(at).unwrap_or(&Value::Null);
        let again = back(part).unwrap_or_else(|error| panic!("{command} {outcome} {at}: {error}: {part}"));
        assert!(within(&again, part), "{command} {outcome} {at}: {again} is not {part}");
    }
    types.len()
}

//! A question as data, turned into the arguments that would ask the same on a command line.

use std::any::TypeId;
use std::collections::BTreeMap;
use std::ffi::OsString;
use std::path::PathBuf;

use clap::{Arg, ArgAction, CommandFactory};
use serde_json::Value;
use serde_json::value::RawValue;

use crate::args::Args;

/// What may be asked: commands that answer and change nothing.
pub(super) const ASKED: [&str; 13] = [
    "plan", "show", "check", "share", "soonest", "why", "worth", "roast", "chill", "portions", "odds", "pass", "replan",
];
/// Options that write files.
const WRITES: [&str; 2] = ["out", "overwrite"];
/// Fields of a question beside the arguments.
const OWN: [&str; 3] = ["id", "ask", "files"];

/// What a question comes to.
pub(super) struct Question {
    pub(super) ask: String,
    /// With the name of the program.
    pub(super) args: Vec<OsString>,
    /// Whatever it holds in place of files.
    pub(super) files: BTreeMap<PathBuf, Vec<u8>>,
    /// It is answered with data.
    pub(super) as_data: bool,
}

type Fields = BTreeMap<String, Box<RawValue>>;

/// Reads a question.
///
/// # Errors
/// What is wrong with it, as far as its command would not say so itself.
pub(super) fn read(fields: Fields) -> Result<Question, String> {
    let ask = match fields.get("ask").map(|ask| serde_json::from_str(ask.get())) {
        Some(Ok(Value::String(ask))) => ask,
        Some(_) => return Err("\"ask\" is the name of a command: a text".to_owned()),
        None => return Err(format!("\"ask\" is missing: write one of {}", ASKED.join(", "))),
    };
    if !ASKED.contains(&ask.as_str()) {
        return Err(format!("{ask:?} cannot be asked: write one of {}", ASKED.join(", ")));
    }
    let mut command = Args::command();
    command.build();
    let known: Vec<&Arg> = command.find_subcommand(&ask).map(arguments).unwrap_or_default();
    let mut files = match fields.get("files") {
        Some(files) => held(files)?,
        None => BTreeMap::new(),
    };
    let mut options = vec![OsString::from("rangewright"), OsString::from(&ask)];
    let mut places: BTreeMap<usize, Vec<String>> = BTreeMap::new();
    let mut as_data = true;
    for (field, value) in fields.iter().filter(|(field, _)| !OWN.contains(&field.as_str())) {
        let Some(arg) = known.iter().find(|arg| name(arg) == *field) else {
            let names: Vec<String> = known.iter().map(|arg| name(arg)).collect();
            return Err(format!("{ask:?} has no field {field:?}: it may have {}", names.join(", ")));
        };
        let values = if is_file(arg) { file(field, value, &mut files)? } else { texts(field, value)? };
        if field == "format" {
            as_data = values == ["json"];
        }
        match (arg.get_index(), arg.get_action()) {
            (Some(_), _) if values.is_empty() => {}
            (Some(index), _) => places.entry(index).or_default().extend(values),
            (None, ArgAction::SetTrue) => match value.get() {
                "true" => options.push(format!("--{}", long(arg)).into()),
                "false" | "null" => {}
                _ => return Err(format!("{field:?} is true or false")),
            },
            (None, _) => options.extend(values.iter().map(|value| format!("--{}={value}", long(arg)).into())),
        }
    }
    if as_data && !fields.contains_key("format") {
        options.push("--format=json".into());
    }
    // What comes first on a command line has to be there for what comes after it.
    let last = places.keys().copied().max().unwrap_or(0);
    let first = |arg: &&&Arg| arg.get_index().is_some_and(|index| index < last && !places.contains_key(&index));
    if let Some(arg) = known.iter().find(first) {
        return Err(format!("{:?} is missing", name(arg)));
    }
    options.push("--".into());
    options.extend(places.into_values().flatten().map(OsString::from));
    Ok(Question { ask, args: options, files, as_data })
}

/// The arguments that a question may give.
pub(super) fn arguments(command: &clap::Command) -> Vec<&Arg> {
    let helps = |arg: &&Arg| matches!(arg.get_action(), ArgAction::Help | ArgAction::HelpShort | ArgAction::HelpLong);
    command.get_arguments().filter(|arg| !helps(arg) && !WRITES.contains(&long(arg))).collect()
}

fn long(arg: &Arg) -> &str {
    arg.get_long().unwrap_or_else(|| arg.get_id().as_str())
}

/// What an argument is called in a question.
pub(super) fn name(arg: &Arg) -> String {
    long(arg).replace('-', "_")
}

/// Whether an argument names a file.
pub(super) fn is_file(arg: &Arg) -> bool {
    arg.get_value_parser().type_id() == TypeId::of::<PathBuf>()
}

/// The files that a question brings along: texts, or data as JSON.
fn held(files: &RawValue) -> Result<BTreeMap<PathBuf, Vec<u8>>, String> {
    let files: Fields =
        serde_json::from_str(files.get()).map_err(|_| "\"files\" holds texts or data by name".to_owned())?;
    Ok(files.into_iter().map(|(name, value)| (PathBuf::from(name), content(&value))).collect())
}

/// A text as it is; of a list each part on a line, as a log has them; other data as it was written.
fn content(value: &RawValue) -> Vec<u8> {
    if let Ok(text) = serde_json::from_str::<String>(value.get()) {
        return text.into_bytes();
    }
    match serde_json::from_str::<Vec<Value>>(value.get()) {
        Ok(lines) => lines.iter().map(|line| format!("{line}\n")).collect::<String>().into_bytes(),
        Err(_) => value.get().as_bytes().to_vec(),
    }
}

/// The name of a file: one that is given, or that of the data which stands in its place.
fn file(field: &str, value: &RawValue, files: &mut BTreeMap<PathBuf, Vec<u8>>) -> Result<Vec<String>, String> {
    if !value.get().starts_with(['{', '[']) {
        return texts(field, value);
    }
    let name = format!("question.{field}");
    match files.insert(PathBuf::from(&name), content(value)) {
        None => Ok(vec![name]),
        Some(_) => Err(format!("{name:?} is what {field:?} of this question is called: name the file otherwise")),
    }
}

/// The values of an option as a command line has them.
fn texts(field: &str, value: &RawValue) -> Result<Vec<String>, String> {
    let value: Value = serde_json::from_str(value.get()).map_err(|error| format!("{field:?}: {error}"))?;
    let one = |value: &Value| match value {
        Value::String(text) => Ok(text.clone()),
        Value::Number(number) => Ok(number.to_string()),
        Value::Bool(truth) => Ok(truth.to_string()),
        _ => Err(format!("{field:?} is a text, a number, or a list of them")),
    };
    match &value {
        Value::Null => Ok(Vec::new()),
        Value::Array(items) => items.iter().map(one).collect(),
        single => Ok(vec![one(single)?]),
    }
}

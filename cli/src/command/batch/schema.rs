//! The schema of questions is made of the arguments, as the help is; the published file is held to that.
//!
//! `RANGEWRIGHT_UPDATE=1` writes it.

use std::any::TypeId;
use std::path::PathBuf;

use clap::{Arg, ArgAction, CommandFactory};
use serde_json::{Map, Value, json};

use super::question::{ASKED, arguments, is_file, name};
use crate::args::Args;

/// What a field of a question takes.
fn field(arg: &Arg) -> Value {
    let about = arg.get_long_help().or(arg.get_help()).map(ToString::to_string).unwrap_or_default();
    let many = matches!(arg.get_action(), ArgAction::Append) || arg.get_value_delimiter().is_some();
    let is = |types: &[TypeId]| types.iter().any(|own| arg.get_value_parser().type_id() == *own);
    let words: Vec<String> = arg.get_possible_values().iter().map(|word| word.get_name().to_owned()).collect();
    let whole = [TypeId::of::<i64>(), TypeId::of::<u32>(), TypeId::of::<u64>(), TypeId::of::<u8>()];
    let one = if matches!(arg.get_action(), ArgAction::SetTrue) {
        json!({"type": "boolean"})
    } else if is_file(arg) {
        let data = json!({"type": ["object", "array"]});
        return json!({
            "description": format!("{about}. A path, the name of one of `files`, or its content as data."),
            "anyOf": [{"type": "string"}, data],
        });
    } else if !words.is_empty() {
        json!({"enum": words})
    } else if is(&whole) || is(&[TypeId::of::<f64>()]) {
        json!({"type": ["number", "string"]})
    } else {
        json!({"type": ["string", "number"]})
    };
    let mut field = match many {
        true => json!({"anyOf": [one, {"type": "array", "items": one}]}),
        false => one,
    };
    field["description"] = about.into();
    field
}

/// What may be asked of one command.
fn question(command: &clap::Command) -> Value {
    let mut fields = Map::new();
    fields.insert("ask".to_owned(), json!({"const": command.get_name(), "description": "The command that is asked."}));
    fields.insert("id".to_owned(), json!({"description": "Anything: it comes back with the answer."}));
    fields.insert(
        "files".to_owned(),
        json!({
            "type": "object",
            "additionalProperties": true,
            "description": "Texts or data by name, which the menu and other fields may name in place of files.",
        }),
    );
    let args = arguments(command);
    let mut needed = vec![json!("ask")];
    for arg in args {
        if arg.is_required_set() {
            needed.push(name(arg).into());
        }
        fields.insert(name(arg), field(arg));
    }
    let about = command.get_about().map(ToString::to_string).unwrap_or_default();
    json!({
        "title": format!("{}Question", crate::words::capital(command.get_name())),
        "description": about,
        "type": "object",
        "required": needed,
        "additionalProperties": false,
        "properties": fields,
    })
}

fn schema() -> Value {
    let mut command = Args::command();
    command.build();
    let mut defs = Map::new();
    for ask in ASKED {
        defs.insert(format!("{ask}_question"), question(command.find_subcommand(ask).expect("a command")));
    }
    let refs: Vec<Value> = ASKED.iter().map(|ask| json!({"$ref": format!("#/$defs/{ask}_question")})).collect();
    defs.insert(
        "reply".to_owned(),
        json!({
            "title": "Reply",
            "description": "A line of the output of `batch`: what is answered to one line.",
            "type": "object",
            "required": ["line", "id", "ask", "exit"],
            "properties": {
                "line": {"type": "integer", "minimum": 1, "description": "The number of the line that was asked."},
                "id": {"description": "As the question gave it; null if it gave none."},
                "ask": {"type": ["string", "null"], "description": "The command that was asked; null if none was understood."},
                "exit": {"type": "integer", "description": "The exit code that the command would have had."},
                "answer": {
                    "anyOf": [{"$ref": "urn:rangewright:answer:1"}, {"type": "string"}],
                    "description": "The answer; a text if a format other than json was asked for. Absent if there is none.",
                },
                "complaint": {"type": "string", "description": "What is wrong, in words. Absent if nothing is."},
            },
        }),
    );
    json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$id": "urn:rangewright:batch:1",
        "title": "Question",
        "description": "A line of the input of `rangewright batch`. Its fields are the arguments and options of the command that is asked.",
        "oneOf": refs,
        "$defs": defs,
    })
}

#[test]
fn the_published_schema_of_questions_is_that_of_the_arguments() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("schema/batch.schema.json");
    let fresh = serde_json::to_string_pretty(&schema()).expect("plain data") + "\n";
    if std::env::var_os("RANGEWRIGHT_UPDATE").is_some() {
        std::fs::write(path, fresh).expect("the schema is written");
        return;
    }
    let published = std::fs::read_to_string(path).expect("a schema");
    assert!(published == fresh, "it is no longer so: run this test with RANGEWRIGHT_UPDATE=1");
}

//! Every field of every schema says what it is.

use std::fs;
use std::path::PathBuf;

use rangewright::models::caution::Topic;
use serde_json::Value;

/// Fields without a description, by where they stand; and how many fields there are.
fn undescribed(node: &Value, at: &str, found: &mut Vec<String>) -> usize {
    match node {
        Value::Object(parts) => {
            let fields = parts.get("properties").and_then(Value::as_object);
            // What an answer must have is described where it is asked for.
            let needed = parts.get("required").and_then(Value::as_array).filter(|_| parts.contains_key("type"));
            let known =
                |name: &Value| fields.is_some_and(|fields| fields.contains_key(name.as_str().unwrap_or_default()));
            let unknown = needed.into_iter().flatten().filter(|name| !known(name));
            found.extend(unknown.map(|name| format!("{at}: {name} is needed, and nothing more is told of it")));
            let own = fields.into_iter().flatten();
            let mut count = 0;
            for (name, field) in own {
                count += 1;
                let described = field["description"].as_str().is_some_and(|text| text.len() > 4);
                // What no field may be is no field.
                if !described && *field != Value::Bool(false) {
                    found.push(format!("{at}/{name}"));
                }
            }
            count + parts.iter().map(|(name, part)| undescribed(part, &format!("{at}/{name}"), found)).sum::<usize>()
        }
        Value::Array(parts) => {
            let parts = parts.iter().enumerate();
            parts.map(|(number, part)| undescribed(part, &format!("{at}/{number}"), found)).sum()
        }
        _ => 0,
    }
}

/// The words of the library are those of the schema.
#[test]
fn every_topic_of_a_caution_is_in_the_schema() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../cli/schema/plan.schema.json");
    let schema: Value = serde_json::from_str(&fs::read_to_string(path).expect("a text")).expect("JSON");
    let topics = serde_json::to_value(Topic::ALL).expect("words");
    let mut published = schema["$defs"]["topic"]["enum"].as_array().expect("words").clone();
    let mut topics = topics.as_array().expect("words").clone();
    published.sort_by_key(Value::to_string);
    topics.sort_by_key(Value::to_string);
    assert_eq!(topics, published);
}

#[test]
fn every_field_of_every_schema_is_described() {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..");
    let (mut found, mut fields) = (Vec::new(), 0);
    for folder in ["cli/schema", "models/schema"] {
        for file in fs::read_dir(root.join(folder)).expect("a folder") {
            let path = file.expect("a file").path();
            let schema: Value = serde_json::from_str(&fs::read_to_string(&path).expect("a text")).expect("JSON");
            fields += undescribed(&schema, &path.file_name().expect("a name").to_string_lossy(), &mut found);
            let parts = schema["$defs"].as_object().into_iter().flatten();
            for (name, part) in parts.filter(|(_, part)| part["description"].as_str().is_none()) {
                found.push(format!("{}: the definition of {name}: {part}", path.display()));
            }
        }
    }
    assert!(fields > 800, "only {fields} fields were found");
    assert!(found.is_empty(), "{} without a description: {found:#?}", found.len());
}

//! Every field of every schema says what it is.

use std::fs;
use std::path::PathBuf;

use serde_json::Value;

/// Fields without a description, by where they stand; and how many fields there are.
fn undescribed(node: &Value, at: &str, found: &mut Vec<String>) -> usize {
    match node {
        Value::Object(parts) => {
            let fields = parts.get("properties").and_then(Value::as_object);
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

//! JSON as a tree. A named record of RON is a record with one field here: `{"Oven": {...}}`.

use serde_json::value::RawValue;

use super::node::{Node, Parts, Source, Unreadable, Value};

pub(super) fn parse(text: &str, source: Source<'_>) -> Result<Node, Unreadable> {
    let unreadable = |error: serde_json::Error| Unreadable {
        why: error.to_string().split(" at line").next().unwrap_or_default().to_owned(),
        at: Source(text).byte_at(error.line(), error.column()),
    };
    let raw: &RawValue = serde_json::from_str(text).map_err(unreadable)?;
    node(raw, source).map_err(|error| Unreadable { why: error.to_string(), at: 0 })
}

fn node(raw: &RawValue, source: Source<'_>) -> serde_json::Result<Node> {
    let text = raw.get();
    let value = match text.as_bytes().first() {
        Some(b'n') => Value::Nothing,
        Some(b't' | b'f') => Value::Truth(text.starts_with('t')),
        Some(b'"') => Value::Text(serde_json::from_str(text)?),
        Some(b'[' | b'{') => parts(text, source)?,
        _ => Value::Number(serde_json::from_str(text)?),
    };
    Ok(Node { span: source.span(text), value })
}

fn parts(text: &str, source: Source<'_>) -> serde_json::Result<Value> {
    Ok(match serde_json::from_str::<Parts<'_, &RawValue>>(text)? {
        Parts::None => Value::Nothing,
        Parts::List(items) => Value::List(items.into_iter().map(|item| node(item, source)).collect::<Result<_, _>>()?),
        Parts::Record(entries) => {
            let mut fields = Vec::with_capacity(entries.len());
            for (key, item) in entries {
                let value = node(item, source)?;
                fields.push((key.place(source, &value.span), value));
            }
            Value::Record(None, fields)
        }
    })
}

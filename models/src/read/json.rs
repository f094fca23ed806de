//! JSON as a tree. A named record of RON is a record with one field here: `{"Oven": {...}}`.

use serde_json::value::RawValue;

use super::node::{DEEPEST, Node, Parts, Source, Unreadable, Value};

pub(super) fn parse(text: &str, source: Source<'_>) -> Result<Node, Unreadable> {
    let unreadable = |error: serde_json::Error| Unreadable {
        why: error.to_string().split(" at line").next().unwrap_or_default().to_owned(),
        at: Source(text).byte_at(error.line(), error.column()),
    };
    let raw: &RawValue = serde_json::from_str(text).map_err(unreadable)?;
    // Places are told within `text`, which may begin behind a byte order mark of the whole.
    let before = source.span(text).start;
    node(raw, source, DEEPEST).map_err(|error| Unreadable { at: error.at.saturating_sub(before), ..error })
}

/// A value that may have `depth` more levels within it.
fn node(raw: &RawValue, source: Source<'_>, depth: usize) -> Result<Node, Unreadable> {
    let text = raw.get();
    let span = source.span(text);
    let unreadable = |error: serde_json::Error| Unreadable { why: error.to_string(), at: span.start };
    let value = match text.as_bytes().first() {
        Some(b'n') => Value::Nothing,
        Some(b't' | b'f') => Value::Truth(text.starts_with('t')),
        Some(b'"') => Value::Text(serde_json::from_str(text).map_err(unreadable)?),
        Some(b'[' | b'{') if depth == 0 => {
            let why = format!("it is nested more than {DEEPEST} deep, which no menu is");
            return Err(Unreadable { why, at: span.start });
        }
        Some(b'[' | b'{') => match serde_json::from_str::<Parts<'_, &RawValue>>(text).map_err(unreadable)? {
            Parts::None => Value::Nothing,
            Parts::List(items) => {
                Value::List(items.into_iter().map(|item| node(item, source, depth - 1)).collect::<Result<_, _>>()?)
            }
            Parts::Record(entries) => {
                let mut fields = Vec::with_capacity(entries.len());
                for (key, item) in entries {
                    let value = node(item, source, depth - 1)?;
                    fields.push((key.place(source, &value.span), value));
                }
                Value::Record(None, fields)
            }
        },
        _ => Value::Number(serde_json::from_str(text).map_err(unreadable)?),
    };
    Ok(Node { span, value })
}

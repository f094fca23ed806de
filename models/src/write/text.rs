//! Records as text: RON on a line, RON over lines, and JSON.

use std::fmt;

use super::{Form, Record, Value};

/// What does not fit in so many characters is broken over lines.
const WIDTH: usize = 110;
const STEP: usize = 4;

impl fmt::Display for Record {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text = String::new();
        record(self, f.alternate().then_some(0), &mut text);
        f.write_str(&text)
    }
}

impl Record {
    /// The same in JSON, over lines.
    ///
    /// ```
    /// use rangewright_models::write::{dish, step};
    /// use rangewright_models::menu::Kind::Simmer;
    /// let soup = dish("Soup", [step(Simmer, "Simmer it", "40 min")]);
    /// assert_eq!(soup.json(), r#"{ "name": "Soup", "steps": [{ "Simmer": { "do": "Simmer it", "takes": "40 min" } }] }"#);
    /// ```
    pub fn json(&self) -> String {
        let mut text = String::new();
        json_record(self, Some(0), &mut text);
        text
    }
}

/// How far a part is set in, or that it may not be broken over lines.
type Indent = Option<usize>;

fn record(own: &Record, indent: Indent, text: &mut String) {
    let field = |(name, own): &(String, Value), indent: Indent, text: &mut String| {
        text.push_str(name);
        text.push_str(": ");
        value(own, indent, text);
    };
    text.push_str(&own.name);
    enclosed(["(", ")"], &own.fields, field, indent, text);
}

fn value(own: &Value, indent: Indent, text: &mut String) {
    match &own.0 {
        Form::Text(own) => quote(own, text),
        Form::Number(number) => text.push_str(&number.to_string()),
        Form::Truth(truth) => text.push_str(&truth.to_string()),
        Form::Record(own) => record(own, indent, text),
        Form::List(items) => enclosed(["[", "]"], items, value, indent, text),
        Form::Pairs(pairs) => {
            let pair = |(name, own): &(String, Value), indent: Indent, text: &mut String| {
                quote(name, text);
                text.push_str(": ");
                value(own, indent, text);
            };
            enclosed(["{", "}"], pairs, pair, indent, text);
        }
    }
}

fn json_record(own: &Record, indent: Indent, text: &mut String) {
    if own.is_one_of {
        text.push_str("{ ");
        quote_json(&own.name, text);
        text.push_str(": ");
    }
    json_pairs(&own.fields, indent, text);
    if own.is_one_of {
        text.push_str(" }");
    }
}

fn json_pairs(pairs: &[(String, Value)], indent: Indent, text: &mut String) {
    let pair = |(name, own): &(String, Value), indent: Indent, text: &mut String| {
        quote_json(name, text);
        text.push_str(": ");
        json_value(own, indent, text);
    };
    enclosed(["{ ", " }"], pairs, pair, indent, text);
}

fn json_value(own: &Value, indent: Indent, text: &mut String) {
    match &own.0 {
        Form::Text(own) => quote_json(own, text),
        Form::Number(number) => text.push_str(&number.to_string()),
        Form::Truth(truth) => text.push_str(&truth.to_string()),
        Form::Record(own) => json_record(own, indent, text),
        Form::List(items) => enclosed(["[", "]"], items, json_value, indent, text),
        Form::Pairs(pairs) => json_pairs(pairs, indent, text),
    }
}

/// Things between brackets: on one line if they fit, otherwise each on a line of its own.
fn enclosed<T>(ends: [&str; 2], items: &[T], one: impl Fn(&T, Indent, &mut String), indent: Indent, text: &mut String) {
    let before = text.len();
    let line = text.rfind('\n').map_or(0, |at| at + 1);
    text.push_str(ends[0]);
    for (number, item) in items.iter().enumerate() {
        text.push_str(if number > 0 { ", " } else { "" });
        one(item, None, text);
    }
    text.push_str(ends[1]);
    let Some(indent) = indent.filter(|_| !items.is_empty() && text[line..].chars().count() > WIDTH) else { return };
    text.truncate(before);
    text.push_str(ends[0].trim_end());
    let inner = indent + STEP;
    for (number, item) in items.iter().enumerate() {
        text.push_str(if number > 0 { ",\n" } else { "\n" });
        text.extend(std::iter::repeat_n(' ', inner));
        one(item, Some(inner), text);
    }
    text.push('\n');
    text.extend(std::iter::repeat_n(' ', indent));
    text.push_str(ends[1].trim_start());
}

fn quote(own: &str, text: &mut String) {
    text.push('"');
    text.push_str(&own.replace('\\', "\\\\").replace('"', "\\\""));
    text.push('"');
}

fn quote_json(own: &str, text: &mut String) {
    text.push_str(&serde_json::Value::from(own).to_string());
}

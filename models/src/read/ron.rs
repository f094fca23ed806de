//! RON as a tree. No other file names `ron`.

use ron::Options;
use ron::value::RawValue;

use super::node::{DEEPEST, Node, Parts, Source, Unreadable, Value};

/// What is nested is read once more at each level; more bytes than these in all are refused, so that no text takes minutes.
const MOST_BYTES: usize = 4 * super::LONGEST;

pub(super) fn parse(text: &str, source: Source<'_>) -> Result<Node, Unreadable> {
    let options = Options::default().with_recursion_limit(DEEPEST);
    let unreadable = |error: ron::error::SpannedError| Unreadable {
        why: error.code.to_string(),
        at: Source(text).byte_at(error.span.end.line, error.span.end.col),
    };
    let raw: &RawValue = options.from_str(text).map_err(unreadable)?;
    let mut reader = Reader { source, read: 0 };
    reader.node(raw).map_err(|why| Unreadable { why, at: 0 })
}

struct Reader<'a> {
    source: Source<'a>,
    read: usize,
}

impl Reader<'_> {
    fn node(&mut self, raw: &RawValue) -> Result<Node, String> {
        let text = raw.trim().get_ron();
        self.read += text.len();
        if self.read > MOST_BYTES {
            return Err("it is nested too deeply for its length".to_owned());
        }
        let span = self.source.span(text);
        let value = self.value(text)?;
        Ok(Node { span, value })
    }

    fn value(&mut self, text: &str) -> Result<Value, String> {
        let unreadable = |error: ron::error::SpannedError| error.code.to_string();
        let name_end = text.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(text.len());
        let (name, rest) = (&text[..name_end], &text[name_end..]);
        match text.chars().next() {
            Some('"') => return Ok(Value::Text(ron::from_str(text).map_err(unreadable)?)),
            Some('\'') => return ron::from_str::<char>(text).map(|c| Value::Text(c.to_string())).map_err(unreadable),
            Some('r') if rest.starts_with(['"', '#']) && name == "r" => {
                return Ok(Value::Text(ron::from_str(text).map_err(unreadable)?));
            }
            Some('b') if rest.starts_with(['"', '\'']) => return Ok(Value::Text(rest.to_owned())),
            Some('0'..='9' | '+' | '-' | '.') => return Ok(number(text)),
            _ => {}
        }
        match name {
            "true" | "false" => return Ok(Value::Truth(name == "true")),
            "None" => return Ok(Value::Nothing),
            "inf" | "NaN" => return Ok(number(name)),
            "" => {}
            _ if rest.is_empty() => return Ok(Value::Word(name.to_owned())),
            _ => {}
        }
        let named = (!name.is_empty()).then(|| name.to_owned());
        let body = &text[text.find(['(', '[', '{']).unwrap_or(0)..];
        Ok(match ron::from_str::<Parts<'_, &RawValue>>(body).map_err(unreadable)? {
            Parts::None => Value::Tuple(named, Vec::new()),
            Parts::List(items) => {
                let mut nodes = items.into_iter().map(|item| self.node(item)).collect::<Result<Vec<_>, _>>()?;
                match (named.as_deref(), body.starts_with('['), nodes.len()) {
                    (Some("Some"), _, 1) => return Ok(nodes.remove(0).value),
                    (None, true, _) => Value::List(nodes),
                    _ => Value::Tuple(named, nodes),
                }
            }
            Parts::Record(entries) => {
                let mut fields = Vec::with_capacity(entries.len());
                for (key, item) in entries {
                    let value = self.node(item)?;
                    fields.push((key.place(self.source, &value.span), value));
                }
                Value::Record(named, fields)
            }
        })
    }
}

/// What is no finite number is one that every range refuses.
fn number(text: &str) -> Value {
    let whole = ron::from_str::<i64>(text).map(|n| n as f64);
    Value::Number(whole.or_else(|_| ron::from_str::<f64>(text)).unwrap_or(f64::NAN))
}

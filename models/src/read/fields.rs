//! Fields of a record, taken one by one; whatever is wrong with them is noted and reading goes on.

use std::ops::{Range, RangeInclusive};

use super::node::{Key, Node, Value};
use super::sorts::Sort;
use crate::faults::{Code, Fault, Origin, Sources, Spot};
use crate::menu::Named;
use crate::units::UnitError;

/// One text that is being read, and what is wrong with it so far.
pub(super) struct Reading<'t> {
    file: usize,
    lines: Vec<usize>,
    /// The bytes that are not the first of a character.
    inner: Vec<usize>,
    /// Something could not be read, so that whatever names it finds nothing.
    pub(super) lost: bool,
    pub(super) sources: &'t mut Sources,
    pub(super) faults: &'t mut Vec<Fault>,
}

impl<'t> Reading<'t> {
    pub(super) fn new(name: &str, text: &str, sources: &'t mut Sources, faults: &'t mut Vec<Fault>) -> Self {
        sources.files.push(name.to_owned());
        let starts = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        let lines = std::iter::once(0).chain(starts).collect();
        let inner = (0..text.len()).filter(|&at| !text.is_char_boundary(at)).collect();
        Reading { file: sources.files.len() - 1, lines, inner, lost: false, sources, faults }
    }

    pub(super) fn origin(&self, span: &Range<usize>) -> Origin {
        let line = self.lines.partition_point(|&start| start <= span.start);
        let start = self.lines.get(line.saturating_sub(1)).copied().unwrap_or(0);
        let before = |at: usize| at - self.inner.partition_point(|&byte| byte < at);
        let column = before(span.start) - before(start) + 1;
        Origin(Some(Spot { file: self.file, start: span.start, end: span.end, line, column }))
    }

    pub(super) fn fault(
        &mut self,
        code: Code,
        span: &Range<usize>,
        cause: impl Into<String>,
        remedy: impl Into<String>,
    ) {
        let fault = self.sources.fault(code, self.origin(span), cause, remedy);
        self.faults.push(fault);
    }

    pub(super) fn shape(&mut self, node: &Node, wanted: &str) {
        self.fault(Code::Shape, &node.span, format!("{} stands here", sort_of(node)), format!("write {wanted}"));
    }

    /// The name in front of a record, and the record: `Oven(...)`, or `{"Oven": {...}}` in JSON.
    pub(super) fn variant<'n>(&self, node: &'n Node) -> (Option<&'n str>, &'n Node) {
        match &node.value {
            Value::Record(None, fields) => match &fields[..] {
                [(key, inner)] if key.name.starts_with(|c: char| c.is_uppercase()) => (Some(&key.name), inner),
                _ => (None, node),
            },
            Value::Record(name, _) | Value::Tuple(name, _) => (name.as_deref(), node),
            Value::Word(name) => (Some(name), node),
            _ => (None, node),
        }
    }

    /// The things in a list; a single thing is a list of one.
    pub(super) fn items<'n>(&self, node: &'n Node) -> &'n [Node] {
        match &node.value {
            Value::List(items) => items,
            _ => std::slice::from_ref(node),
        }
    }

    pub(super) fn text(&mut self, node: &Node, example: &str) -> Option<String> {
        match &node.value {
            Value::Text(text) => Some(text.clone()),
            _ => {
                self.shape(node, &format!("a text in quotation marks, such as \"{example}\""));
                None
            }
        }
    }

    pub(super) fn named(&mut self, node: &Node, example: &str) -> Option<Named> {
        let name = self.text(node, example)?;
        Some(Named { name, origin: self.origin(&node.span) })
    }

    /// One of a few words, with or without quotation marks.
    pub(super) fn word<T: Clone>(&mut self, node: &Node, words: &[(&str, T)]) -> Option<T> {
        let (Value::Text(text) | Value::Word(text)) = &node.value else {
            self.shape(node, &one_of(words.iter().map(|(word, _)| *word)));
            return None;
        };
        let known = words.iter().find(|(word, _)| word.eq_ignore_ascii_case(text.trim()));
        if known.is_none() {
            let remedy = suggestion(text, words.iter().map(|(word, _)| *word));
            self.fault(Code::UnknownWord, &node.span, format!("{text:?} is no word that fits here"), remedy);
        }
        known.map(|(_, value)| value.clone())
    }

    pub(super) fn quantity<T>(&mut self, node: &Node, sort: &Sort<T>) -> Option<T> {
        let remedy = format!("write it like \"{}\"", sort.example);
        let text = match &node.value {
            Value::Text(text) => text,
            Value::Number(number) => {
                let (code, cause) = match number.is_finite() && *number >= 0.0 {
                    true => (Code::NoUnit, format!("{number} has no unit")),
                    false => (Code::Absurd, format!("{number} is absurd here")),
                };
                self.fault(code, &node.span, cause, remedy);
                return None;
            }
            _ => {
                self.shape(node, &format!("it like \"{}\"", sort.example));
                return None;
            }
        };
        match (sort.parse)(text) {
            Ok(value) if (sort.legal)(&value) => Some(value),
            Ok(_) => {
                let remedy = format!("give one {}", sort.range);
                self.fault(Code::Absurd, &node.span, format!("{text:?} is absurd here"), remedy);
                None
            }
            Err(error) => {
                self.fault(code_of(&error), &node.span, error.to_string(), remedy);
                None
            }
        }
    }

    pub(super) fn whole(&mut self, node: &Node, legal: RangeInclusive<i64>) -> Option<i64> {
        let remedy = format!("give a whole number from {} to {}", legal.start(), legal.end());
        let Value::Number(number) = node.value else {
            self.shape(node, &remedy.replace("give ", ""));
            return None;
        };
        let (low, high) = (*legal.start() as f64, *legal.end() as f64);
        let (code, cause) = if !number.is_finite() || number < low || number > high {
            (Code::Absurd, format!("{number} is absurd here"))
        } else if number.fract() != 0.0 {
            (Code::NotWhole, format!("{number} is not whole"))
        } else {
            return Some(number as i64);
        };
        self.fault(code, &node.span, cause, remedy);
        None
    }

    pub(super) fn truth(&mut self, node: &Node) -> Option<bool> {
        match node.value {
            Value::Truth(truth) => Some(truth),
            _ => {
                self.shape(node, "true or false");
                None
            }
        }
    }
}

/// The fields of one record.
pub(super) struct Fields<'n> {
    what: &'n str,
    pub(super) origin: Origin,
    span: Range<usize>,
    entries: Vec<(&'n str, Range<usize>, &'n Node)>,
    asked: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    /// Opens a record. What stands without names gets the names of `positions`, in that order.
    pub(super) fn open(
        r: &mut Reading<'_>,
        node: &'n Node,
        whole: &Range<usize>,
        what: &'n str,
        positions: &[&'static str],
    ) -> Option<Fields<'n>> {
        let mut fields =
            Fields { what, origin: r.origin(whole), span: whole.clone(), entries: Vec::new(), asked: Vec::new() };
        match &node.value {
            Value::Record(_, entries) => {
                for (Key { name, span }, value) in entries {
                    if fields.entries.iter().any(|(known, _, _)| known == name) {
                        let cause = format!("{name:?} is said twice");
                        r.fault(Code::SaidTwice, span, cause, "keep one of the two");
                    } else {
                        fields.entries.push((name, span.clone(), value));
                    }
                }
            }
            Value::Tuple(_, items) | Value::List(items) if items.len() <= positions.len() => {
                fields.entries.extend(positions.iter().zip(items).map(|(name, item)| (*name, item.span.clone(), item)));
            }
            Value::Word(_) => {}
            _ => {
                let names = positions.join("\" and \"");
                r.shape(node, &format!("a record with named fields, or only \"{names}\" in brackets"));
                return None;
            }
        }
        Some(fields)
    }

    /// The value of a field. What is `None` counts as not said.
    pub(super) fn get(&mut self, r: &mut Reading<'_>, name: &'static str) -> Option<&'n Node> {
        self.asked.push(name);
        let (_, _, node) = self.entries.iter().find(|(known, _, _)| *known == name)?;
        let at = r.origin(&node.span);
        r.sources.fields.insert((self.origin, name), at);
        (node.value != Value::Nothing).then_some(*node)
    }

    /// The value of a field that must be said.
    pub(super) fn need(&mut self, r: &mut Reading<'_>, name: &'static str, example: &str) -> Option<&'n Node> {
        let node = self.get(r, name);
        if node.is_none() {
            let head = self.span.start..self.span.end.min(self.span.start + self.what.len());
            let cause = format!("\"{name}\" is missing in this {}", self.what);
            r.fault(Code::MissingField, &head, cause, format!("add {name}: {example}"));
        }
        node
    }

    pub(super) fn text(&mut self, r: &mut Reading<'_>, name: &'static str) -> Option<String> {
        self.get(r, name).and_then(|node| r.text(node, "text"))
    }

    /// A name that is not empty.
    pub(super) fn name(&mut self, r: &mut Reading<'_>, example: &str) -> Option<String> {
        let node = self.need(r, "name", &format!("\"{example}\""))?;
        let name = r.text(node, example)?;
        if crate::menu::slug(&name).is_empty() {
            let cause = format!("{name:?} has no letter and no figure in it");
            r.fault(Code::MissingField, &node.span, cause, format!("name it, for example \"{example}\""));
            return None;
        }
        Some(name)
    }

    pub(super) fn quantity<T>(&mut self, r: &mut Reading<'_>, name: &'static str, sort: &Sort<T>) -> Option<T> {
        self.get(r, name).and_then(|node| r.quantity(node, sort))
    }

    pub(super) fn whole(&mut self, r: &mut Reading<'_>, name: &'static str, legal: RangeInclusive<i64>) -> Option<i64> {
        self.get(r, name).and_then(|node| r.whole(node, legal))
    }

    pub(super) fn truth(&mut self, r: &mut Reading<'_>, name: &'static str) -> Option<bool> {
        self.get(r, name).and_then(|node| r.truth(node))
    }

    pub(super) fn word<T: Clone>(&mut self, r: &mut Reading<'_>, name: &'static str, words: &[(&str, T)]) -> Option<T> {
        self.get(r, name).and_then(|node| r.word(node, words))
    }

    /// Things in a list, each read by `read`; those that cannot be read are left out, having been noted.
    pub(super) fn list<T>(
        &mut self,
        r: &mut Reading<'_>,
        name: &'static str,
        mut read: impl FnMut(&mut Reading<'_>, &'n Node) -> Option<T>,
    ) -> Vec<T> {
        let Some(node) = self.get(r, name) else { return Vec::new() };
        let items = match &node.value {
            Value::List(items) => items,
            _ => std::slice::from_ref(node),
        };
        let found: Vec<T> = items.iter().filter_map(|item| read(r, item)).collect();
        r.lost |= found.len() < items.len();
        found
    }

    /// Two fields that may not both be said.
    pub(super) fn not_both(&mut self, r: &mut Reading<'_>, one: &'static str, other: &'static str, why: &str) {
        let said = |name| self.entries.iter().find(|(known, _, _)| *known == name);
        if let (Some(_), Some((_, span, _))) = (said(one), said(other)) {
            let cause = format!("\"{one}\" and \"{other}\" are both said: {why}");
            r.fault(Code::Contradiction, span, cause, "keep one of the two");
        }
    }

    /// Notes every field that nobody asked for.
    pub(super) fn close(self, r: &mut Reading<'_>) -> Origin {
        for (name, span, _) in &self.entries {
            if !self.asked.contains(name) {
                let cause = format!("a {} has no field {name:?}", self.what);
                r.fault(Code::UnknownField, span, cause, suggestion(name, self.asked.iter().copied()));
            }
        }
        self.origin
    }
}

/// `did you mean "x"?`, or all there are to choose from.
pub(crate) fn suggestion<'a>(wrong: &str, known: impl Iterator<Item = &'a str> + Clone) -> String {
    // A long text is no slip of the pen, and comparing it would take long.
    let wrong: String = wrong.chars().take(60).flat_map(char::to_lowercase).collect();
    let close = known
        .clone()
        .map(|word| (strsim::osa_distance(&wrong, &word.to_lowercase()), word))
        .filter(|(distance, word)| *distance <= 1 + word.chars().count() / 4)
        .min_by_key(|(distance, _)| *distance);
    match close {
        Some((_, word)) => format!("did you mean \"{word}\"?"),
        None => format!("write {}", one_of(known)),
    }
}

fn one_of<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let words: Vec<&str> = words.take(40).collect();
    match &words[..] {
        [] => "nothing here: there is none".to_owned(),
        [only] => format!("\"{only}\""),
        [first @ .., last] => format!("one of \"{}\" or \"{last}\"", first.join("\", \"")),
    }
}

fn sort_of(node: &Node) -> &'static str {
    match node.value {
        Value::Nothing => "nothing",
        Value::Truth(_) => "a true or false",
        Value::Number(_) => "a number",
        Value::Text(_) => "a text",
        Value::Word(_) => "a bare word",
        Value::List(_) => "a list",
        Value::Tuple(..) => "values in brackets",
        Value::Record(..) => "a record",
    }
}

fn code_of(error: &UnitError) -> Code {
    match error {
        UnitError::NotAQuantity { .. } => Code::NotAQuantity,
        UnitError::NoUnit { .. } => Code::NoUnit,
        UnitError::WrongUnit { .. } => Code::WrongUnit,
        UnitError::TooFine => Code::NotWhole,
        UnitError::UpsideDown => Code::UpsideDown,
        UnitError::Absurd => Code::Absurd,
        UnitError::NotAClock { .. } => Code::NotAClock,
        UnitError::NotADate { .. } => Code::NotADate,
        UnitError::UnknownZone { .. } => Code::UnknownZone,
    }
}

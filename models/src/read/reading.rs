//! One text that is being read: values from nodes; whatever is wrong with them is noted and reading goes on.

use std::ops::{Range, RangeInclusive};

use super::node::{Node, Value};
use super::sorts::{self, Sort};
use crate::faults::{Code, Fault, Origin, Sources, Spot, one_of, suggestion};
use crate::menu::Named;
use crate::units::{Scale, Temperature, UnitError};

/// One text that is being read, and what is wrong with it so far.
pub(super) struct Reading<'t> {
    file: usize,
    lines: Vec<usize>,
    /// The bytes that are not the first of a character.
    inner: Vec<usize>,
    /// Something could not be read, so that whatever names it finds nothing.
    pub(super) lost: bool,
    /// The scales of the temperatures that were read, each as often as it was used.
    pub(super) scales: Vec<Scale>,
    pub(super) sources: &'t mut Sources,
    pub(super) faults: &'t mut Vec<Fault>,
}

impl<'t> Reading<'t> {
    pub(super) fn new(name: &str, text: &str, sources: &'t mut Sources, faults: &'t mut Vec<Fault>) -> Self {
        sources.files.push(name.to_owned());
        let starts = text.bytes().enumerate().filter(|(_, byte)| *byte == b'\n').map(|(at, _)| at + 1);
        let lines = std::iter::once(0).chain(starts).collect();
        let inner = (0..text.len()).filter(|&at| !text.is_char_boundary(at)).collect();
        Reading { file: sources.files.len() - 1, lines, inner, lost: false, scales: Vec::new(), sources, faults }
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

    /// A temperature as it is written.
    pub(super) fn degrees(&mut self, node: &Node) -> Option<Temperature> {
        let degrees = self.quantity(node, &sorts::DEGREES)?;
        self.scales.push(degrees.scale());
        Some(degrees)
    }

    /// Two temperatures as they are written; a single one is both.
    pub(super) fn degree_range(&mut self, node: &Node, sort: &Sort<[Temperature; 2]>) -> Option<[Temperature; 2]> {
        let ends = self.quantity(node, sort)?;
        self.scales.push(ends[0].scale());
        Some(ends)
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

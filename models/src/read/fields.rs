//! Fields of a record, taken one by one.

use std::ops::{Range, RangeInclusive};

use super::node::{Key, Node, Value};
use super::reading::Reading;
use super::sorts::Sort;
use crate::faults::{Code, Origin, suggestion};

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

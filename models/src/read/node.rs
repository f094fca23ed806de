//! Text as a tree in which everything knows where it was written. Both formats are read into it.

use std::fmt;
use std::marker::PhantomData;
use std::ops::Range;

use serde::de::{Deserialize, Deserializer, IgnoredAny, MapAccess, SeqAccess, Visitor};

/// Deeper nesting than any menu has is refused, so that no text can exhaust the stack.
pub(super) const DEEPEST: usize = 32;

/// A value and the bytes it was written in.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Node {
    pub(super) span: Range<usize>,
    pub(super) value: Value,
}

#[derive(Clone, Debug, PartialEq)]
pub(super) enum Value {
    /// RON's `None`, JSON's `null`.
    Nothing,
    Truth(bool),
    Number(f64),
    Text(String),
    /// A bare name: `Fan`.
    Word(String),
    List(Vec<Node>),
    /// `Oven(...)` or `(...)` with values by position.
    Tuple(Option<String>, Vec<Node>),
    /// `Oven(...)`, `(...)` or `{...}` with values by name.
    Record(Option<String>, Vec<(Key, Node)>),
}

/// The name of a field. Its span is that of the value where the format does not say better.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Key {
    pub(super) name: String,
    pub(super) span: Range<usize>,
}

/// Why a text is no tree, and where.
#[derive(Debug)]
pub(super) struct Unreadable {
    pub(super) why: String,
    pub(super) at: usize,
}

/// The whole text, and where slices of it begin.
#[derive(Clone, Copy)]
pub(super) struct Source<'a>(pub(super) &'a str);

impl Source<'_> {
    /// The bytes of `part`, which is a slice of this text.
    pub(super) fn span(self, part: &str) -> Range<usize> {
        let start = (part.as_ptr() as usize).saturating_sub(self.0.as_ptr() as usize).min(self.0.len());
        start..(start + part.len()).min(self.0.len())
    }

    /// The byte at a line and a column, both counted from 1, the column in characters.
    pub(super) fn byte_at(self, line: usize, column: usize) -> usize {
        let start: usize = self.0.split_inclusive('\n').take(line.saturating_sub(1)).map(str::len).sum();
        let within = self.0[start..].char_indices().nth(column.saturating_sub(1));
        within.map_or(self.0.len(), |(byte, _)| start + byte)
    }
}

/// The parts of a list or a record, each still text of type `R`.
pub(super) enum Parts<'de, R> {
    List(Vec<R>),
    Record(Vec<(KeyText<'de>, R)>),
    None,
}

/// The name of a field; borrowed from the text unless it has escapes.
pub(super) enum KeyText<'de> {
    Borrowed(&'de str),
    Owned(String),
}

impl KeyText<'_> {
    pub(super) fn place(self, source: Source<'_>, value: &Range<usize>) -> Key {
        match self {
            KeyText::Borrowed(name) => Key { name: name.to_owned(), span: source.span(name) },
            KeyText::Owned(name) => Key { name, span: value.clone() },
        }
    }
}

impl<'de> Deserialize<'de> for KeyText<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Keys;
        impl<'de> Visitor<'de> for Keys {
            type Value = KeyText<'de>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the name of a field")
            }
            fn visit_borrowed_str<E>(self, name: &'de str) -> Result<KeyText<'de>, E> {
                Ok(KeyText::Borrowed(name))
            }
            fn visit_str<E>(self, name: &str) -> Result<KeyText<'de>, E> {
                Ok(KeyText::Owned(name.to_owned()))
            }
        }
        deserializer.deserialize_any(Keys)
    }
}

impl<'de, R: Deserialize<'de>> Deserialize<'de> for Parts<'de, R> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(PartsVisitor(PhantomData))
    }
}

struct PartsVisitor<R>(PhantomData<R>);

impl<'de, R: Deserialize<'de>> Visitor<'de> for PartsVisitor<R> {
    type Value = Parts<'de, R>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a list or a record")
    }

    fn visit_unit<E>(self) -> Result<Self::Value, E> {
        Ok(Parts::None)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Self::Value, A::Error> {
        let mut parts = Vec::new();
        while let Some(part) = seq.next_element()? {
            parts.push(part);
        }
        Ok(Parts::List(parts))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut parts = Vec::new();
        while let Some(entry) = map.next_entry()? {
            parts.push(entry);
        }
        Ok(Parts::Record(parts))
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, inner: D) -> Result<Self::Value, D::Error> {
        IgnoredAny::deserialize(inner).map(|_| Parts::None)
    }
}

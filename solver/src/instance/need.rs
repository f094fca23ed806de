//! What a mode needs: of which resource, in which of its minutes, how much.
//!
//! This is the one place where that is said. Every engine reads [`Mode::needs`] and nothing else, so that a new kind of
//! resource is a line in `lower.rs`, and a new kind of [`During`] does not compile until each engine knows it.

use super::{Mode, Time};

/// A need of a resource. Two needs of one mode at the same minute add up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Need {
    pub(crate) resource: usize,
    pub(crate) during: During,
    pub(crate) amount: i64,
}

/// The minutes of a step over `[start, end)` in which it needs something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum During {
    /// From start to end.
    Whole,
    /// `[start + offset, start + offset + minutes)`.
    FromStart { offset: Time, minutes: Time },
    /// `[end - minutes, end)`.
    BeforeEnd { minutes: Time },
}

impl Need {
    /// The minutes in which a step over `[start, end)` has this need.
    pub(crate) fn span(self, start: Time, end: Time) -> (Time, Time) {
        match self.during {
            During::Whole => (start, end),
            During::FromStart { offset, minutes } => (start + offset, start + offset + minutes),
            During::BeforeEnd { minutes } => (end - minutes, end),
        }
    }

    /// Whether it takes at least as much as another, of the same resource and in all minutes of the other.
    pub(crate) fn covers(self, other: Need) -> bool {
        let inside = match (self.during, other.during) {
            (During::Whole, During::Whole) => true,
            (During::FromStart { offset, minutes }, During::FromStart { offset: from, minutes: length }) => {
                offset <= from && from + length <= offset + minutes
            }
            (During::BeforeEnd { minutes }, During::BeforeEnd { minutes: length }) => minutes >= length,
            _ => false,
        };
        inside && self.resource == other.resource && self.amount >= other.amount
    }
}

impl Mode {
    /// What it needs of one resource.
    pub(crate) fn needs_of(&self, resource: usize) -> impl Iterator<Item = Need> {
        self.needs.iter().copied().filter(move |need| need.resource == resource)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn need(during: During) -> Need {
        Need { resource: 0, during, amount: 1 }
    }

    #[test]
    fn needs_lie_where_they_hang() {
        assert_eq!(need(During::Whole).span(10, 30), (10, 30));
        assert_eq!(need(During::FromStart { offset: 5, minutes: 2 }).span(10, 30), (15, 17));
        assert_eq!(need(During::BeforeEnd { minutes: 3 }).span(10, 30), (27, 30));
    }

    #[test]
    fn a_need_covers_what_lies_inside_it_and_is_no_more() {
        let longer = need(During::FromStart { offset: 4, minutes: 5 });
        let shorter = need(During::FromStart { offset: 5, minutes: 2 });
        assert!(longer.covers(shorter) && !shorter.covers(longer));
        assert!(!longer.covers(Need { amount: 2, ..shorter }));
        assert!(!longer.covers(Need { resource: 1, ..shorter }));
        assert!(!longer.covers(need(During::BeforeEnd { minutes: 1 })));
    }
}

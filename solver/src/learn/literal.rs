//! Facts about integer variables: all are of the form "a side is at least a number".

/// A variable as seen from one of its two sides: `2 v` stands for the value of variable `v`, `2 v + 1` for minus its value.
///
/// Upper bounds are lower bounds of the other side, so that every rule is written once.
pub(super) type Side = u32;

/// The fact that a side is at least a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Lit {
    pub(super) side: Side,
    pub(super) at_least: i32,
}

impl Lit {
    /// A fact that always holds: variable 0 is fixed to 0.
    pub(super) const TRUE: Lit = Lit { side: 0, at_least: 0 };

    /// Exactly one of a fact and its opposite holds.
    pub(super) fn opposite(self) -> Lit {
        Lit { side: self.side ^ 1, at_least: 1 - self.at_least }
    }
}

/// A side plus a constant: a start, an end, a duration.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Expr {
    pub(super) side: Side,
    pub(super) plus: i32,
}

impl Expr {
    /// A constant: variable 0 is fixed to 0.
    pub(super) fn constant(value: i32) -> Expr {
        Expr { side: 0, plus: value }
    }

    pub(super) fn minus(self) -> Expr {
        Expr { side: self.side ^ 1, plus: -self.plus }
    }

    pub(super) fn plus(self, minutes: i32) -> Expr {
        Expr { plus: self.plus + minutes, ..self }
    }

    pub(super) fn at_least(self, value: i32) -> Lit {
        Lit { side: self.side, at_least: value - self.plus }
    }

    pub(super) fn at_most(self, value: i32) -> Lit {
        self.minus().at_least(-value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn opposites_and_expressions() {
        let x = Expr { side: 4, plus: 10 };
        assert_eq!(x.at_least(15), Lit { side: 4, at_least: 5 });
        assert_eq!(x.at_most(15), Lit { side: 5, at_least: -5 });
        assert_eq!(x.at_least(15).opposite(), x.at_most(14));
        assert_eq!(x.minus().minus(), x);
        assert_eq!(x.minus().at_most(-15), x.at_least(15));
    }
}

//! Longest paths between all moments, by what holds in every plan.

use crate::learn::literal::{Expr, Side};

/// `between(x, y)` is the greatest `w` known with `y >= x + w`.
pub(super) struct Paths {
    /// The index of each variable's row; none if it is in no difference.
    rows: Vec<Option<usize>>,
    count: usize,
    longest: Vec<i32>,
}

/// Beyond this many moments only the differences themselves are looked at.
const MANY: usize = 400;
const NEVER: i32 = i32::MIN / 4;

impl Paths {
    pub(super) fn new(sides: usize, firm: &[(Expr, Expr, i32)]) -> Self {
        let mut rows = vec![None; sides / 2];
        let mut count = 0;
        for &(from, to, _) in firm {
            for expr in [from, to] {
                let row = &mut rows[(expr.side / 2) as usize];
                if row.is_none() {
                    *row = Some(count);
                    count += 1;
                }
            }
        }
        let mut paths = Paths { rows, count, longest: vec![NEVER; count * count] };
        for row in 0..count {
            paths.longest[row * count + row] = 0;
        }
        for &(from, to, weight) in firm {
            if let (Some(a), Some(b)) = (paths.row(from.side), paths.row(to.side)) {
                let entry = &mut paths.longest[a * count + b];
                *entry = (*entry).max(weight + from.plus - to.plus);
            }
        }
        if count <= MANY {
            paths.close();
        }
        paths
    }

    fn row(&self, side: Side) -> Option<usize> {
        self.rows[(side / 2) as usize]
    }

    fn close(&mut self) {
        let count = self.count;
        for via in 0..count {
            let second: Vec<i32> = self.longest[via * count..(via + 1) * count].to_vec();
            for from in 0..count {
                let first = self.longest[from * count + via];
                if first == NEVER {
                    continue;
                }
                for (entry, &rest) in self.longest[from * count..(from + 1) * count].iter_mut().zip(&second) {
                    if rest != NEVER {
                        *entry = (*entry).max(first + rest);
                    }
                }
            }
        }
    }

    /// The greatest known `w` with `to >= from + w`; very small if nothing is known.
    pub(super) fn between(&self, from: Expr, to: Expr) -> i32 {
        let longest = match (self.row(from.side), self.row(to.side)) {
            (Some(a), Some(b)) => self.longest[a * self.count + b],
            _ if from.side == to.side => 0,
            _ => NEVER,
        };
        if longest == NEVER { NEVER } else { longest + to.plus - from.plus }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paths_add_up() {
        let [a, b, c] = [2, 4, 6].map(|side| Expr { side, plus: 0 });
        let paths = Paths::new(8, &[(a, b.plus(1), 5), (b, c, 3), (c, a, -20)]);
        assert_eq!(paths.between(a, c.plus(2)), 9);
        assert_eq!(paths.between(b, a), -17);
        assert_eq!(paths.between(Expr { side: 0, plus: 0 }, a), NEVER);
    }
}

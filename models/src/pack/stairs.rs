//! The outline of what is already packed, seen from the far right corner.
//!
//! Every packing can be built up in an order in which each next rectangle lies right of or beyond each earlier one (one of
//! the two orders of its sequence pair). So a next rectangle never needs to reach below the outline, and pushing it left
//! and to the front brings it to one of the outline's inner corners.

/// A staircase: inner corners with rising `x` and falling `y`; the first one has `x` 0.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Stairs {
    corners: Vec<(i64, i64)>,
}

impl Stairs {
    /// Nothing is packed.
    pub(super) fn new() -> Self {
        Stairs { corners: vec![(0, 0)] }
    }

    /// Where a next rectangle may go, pushed left and to the front.
    pub(super) fn corners(&self) -> &[(i64, i64)] {
        &self.corners
    }

    /// The outline once a rectangle that starts at a corner reaches to `(right, far)`.
    pub(super) fn with(&self, right: i64, far: i64) -> Self {
        let mut corners = Vec::with_capacity(self.corners.len() + 1);
        // Left of the rectangle's highest reach nothing changes.
        corners.extend(self.corners.iter().copied().take_while(|&(_, y)| y > far));
        let kept = corners.len();
        corners.push((self.corners.get(kept).map_or(0, |&(x, _)| x), far));
        // Beyond its right side the old outline goes on, from the step under that side.
        let under = self.corners.iter().take_while(|&&(x, _)| x <= right).last().map_or(0, |&(_, y)| y);
        if under < far {
            corners.push((right, under));
        }
        corners.extend(self.corners.iter().copied().filter(|&(x, y)| x > right && y < far));
        Stairs { corners }
    }

    /// The outline raised over all corners that nothing can use any more: what no rectangle can reach is as good as taken.
    pub(super) fn without(&self, depth: i64, useful: impl Fn((i64, i64)) -> bool) -> Self {
        let mut corners: Vec<(i64, i64)> = self.corners.iter().copied().filter(|&corner| useful(corner)).collect();
        if corners.first().is_none_or(|&(x, _)| x > 0) {
            corners.insert(0, (0, depth));
        }
        Stairs { corners }
    }

    /// The area below the outline within a width.
    pub(super) fn area(&self, width: i64) -> i128 {
        let ends = self.corners.iter().skip(1).map(|&(x, _)| x).chain([width]);
        self.corners.iter().zip(ends).map(|(&(x, y), end)| i128::from(end - x) * i128::from(y)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_rectangle_in_a_corner_makes_two_corners() {
        let one = Stairs::new().with(3, 2);
        assert_eq!(one.corners(), [(0, 2), (3, 0)]);
        let two = one.with(5, 1);
        assert_eq!(two.corners(), [(0, 2), (3, 1), (5, 0)]);
        assert_eq!(two.area(6), 3 * 2 + 2);
    }

    #[test]
    fn a_rectangle_that_juts_out_covers_what_lies_in_its_shade() {
        let outline = Stairs::new().with(3, 2).with(4, 1);
        assert_eq!(outline.with(5, 4).corners(), [(0, 4), (5, 0)]);
        assert_eq!(outline.with(2, 5).corners(), [(0, 5), (2, 2), (3, 1), (4, 0)]);
    }

    #[test]
    fn equal_steps_become_one() {
        assert_eq!(Stairs::new().with(3, 2).with(5, 2).corners(), [(0, 2), (5, 0)]);
        assert_eq!(Stairs::new().with(3, 2).with(3, 4).corners(), [(0, 4), (3, 0)]);
    }
}

//! How many times as much.

/// A positive fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ratio {
    made: i64,
    written: i64,
}

impl Ratio {
    /// So many portions in place of so many, both in halves, because a child eats half of one. `None` if there are none of one
    /// of the two.
    pub fn of_halves(made: i64, written: i64) -> Option<Ratio> {
        (made > 0 && written > 0).then_some(Ratio { made, written })
    }

    /// As a number.
    pub fn number(self) -> f64 {
        self.made as f64 / self.written as f64
    }

    /// As much as is written.
    pub(super) fn is_one(self) -> bool {
        self.made == self.written
    }

    /// So many times a number, to the nearest.
    pub(super) fn nearest(self, number: i64) -> i64 {
        self.shared(number, [1, 1])
    }

    /// So many times a number, rounded up.
    pub(super) fn up(self, number: i64) -> i64 {
        let (made, written) = (i128::from(self.made), i128::from(self.written));
        narrow((i128::from(number) * made + written - 1) / written)
    }

    /// So many times a number for each of `now` that share it, when `before` did; to the nearest.
    pub(super) fn shared(self, number: i64, [before, now]: [i64; 2]) -> i64 {
        let made = i128::from(self.made) * i128::from(before);
        let written = i128::from(self.written) * i128::from(now.max(1));
        narrow((i128::from(number) * made * 2 + written) / (written * 2))
    }

    /// Whether it is at most one and so many hundredths, and not less than one.
    pub(super) fn little_more(self, hundredths: i64) -> bool {
        self.made >= self.written
            && i128::from(self.made) * 100 <= i128::from(self.written) * i128::from(100 + hundredths)
    }

    /// The greatest whole number of portions for which a number times the ratio is at most `most`, of so many written.
    pub(super) fn up_to(written: i64, number: i64, most: i64) -> i64 {
        narrow(i128::from(written) * i128::from(most) / i128::from(number.max(1)))
    }
}

fn narrow(number: i128) -> i64 {
    i64::try_from(number).unwrap_or(i64::MAX)
}

//! Exact numbers: what was written, as a fraction.

use super::UnitError;

/// A fraction with a positive denominator.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Ratio {
    num: i128,
    den: i128,
}

impl Ratio {
    pub(super) const ZERO: Ratio = Ratio::new(0, 1);

    pub(super) const fn new(num: i128, den: i128) -> Ratio {
        Ratio { num, den }
    }

    pub(super) fn times(self, other: Ratio) -> Result<Ratio, UnitError> {
        Ratio::lowest(self.num.checked_mul(other.num), self.den.checked_mul(other.den))
    }

    pub(super) fn plus(self, other: Ratio) -> Result<Ratio, UnitError> {
        let cross = |a: i128, b: i128| a.checked_mul(b).ok_or(UnitError::Absurd);
        let num = cross(self.num, other.den)?.checked_add(cross(other.num, self.den)?);
        Ratio::lowest(num, self.den.checked_mul(other.den))
    }

    fn lowest(num: Option<i128>, den: Option<i128>) -> Result<Ratio, UnitError> {
        let (num, den) = num.zip(den).ok_or(UnitError::Absurd)?;
        let (mut common, mut rest) = (den, num.abs());
        while rest != 0 {
            (common, rest) = (rest, common % rest);
        }
        Ok(Ratio { num: num / common, den: den / common })
    }

    pub(super) fn negative(self) -> Ratio {
        Ratio { num: -self.num, den: self.den }
    }

    pub(super) fn whole(self) -> Option<i128> {
        (self.num % self.den == 0).then(|| self.num / self.den)
    }

    /// The whole number next to it towards zero.
    pub(super) fn towards_zero(self) -> i128 {
        self.num / self.den
    }

    /// The nearest whole number, halves away from zero.
    pub(super) fn round(self) -> i128 {
        let (whole, rest) = (self.num.abs() / self.den, self.num.abs() % self.den);
        self.num.signum() * (whole + i128::from(rest >= self.den - rest))
    }
}

/// Reads a number without sign from the start of `text`: `12`, `1.25`, `1/2`, `1 1/2`. Returns it and what follows.
pub(super) fn number(text: &str) -> Result<(Ratio, &str), UnitError> {
    let (first, rest) = decimal(text)?;
    if let Some(below) = rest.strip_prefix('/') {
        let (den, rest) = fraction_below(below)?;
        return Ok((first.times(Ratio::new(1, den))?, rest));
    }
    // A whole number may be followed by a fraction.
    let after_space = rest.trim_start();
    if first.whole().is_some()
        && after_space.len() < rest.len()
        && after_space.starts_with(|c: char| c.is_ascii_digit())
        && let Ok((second, after)) = decimal(after_space)
        && let Some(below) = after.strip_prefix('/')
    {
        let (den, rest) = fraction_below(below)?;
        return Ok((first.plus(second.times(Ratio::new(1, den))?)?, rest));
    }
    Ok((first, rest))
}

fn fraction_below(text: &str) -> Result<(i128, &str), UnitError> {
    let (den, rest) = decimal(text)?;
    match den.whole() {
        Some(den) if den > 0 => Ok((den, rest)),
        _ => Err(UnitError::NotAQuantity { found: text.to_owned() }),
    }
}

fn decimal(text: &str) -> Result<(Ratio, &str), UnitError> {
    let digits = |text: &str| text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let whole = digits(text);
    if whole == 0 {
        return Err(UnitError::NotAQuantity { found: text.trim().to_owned() });
    }
    let mut rest = &text[whole..];
    let mut places = 0;
    if let Some(after) = rest.strip_prefix('.') {
        places = digits(after);
        if places == 0 {
            return Err(UnitError::NotAQuantity { found: text.trim().to_owned() });
        }
        rest = &after[places..];
    }
    if rest.starts_with(',') {
        return Err(UnitError::NotAQuantity { found: text.trim().to_owned() });
    }
    if whole > 9 || places > 6 {
        return Err(UnitError::Absurd);
    }
    let fold = |digits: &str| digits.bytes().fold(0_i128, |sum, digit| sum * 10 + i128::from(digit - b'0'));
    let scale = 10_i128.pow(places as u32);
    let after_point = if places > 0 { fold(&text[whole + 1..whole + 1 + places]) } else { 0 };
    Ok((Ratio::new(fold(&text[..whole]) * scale + after_point, scale), rest))
}

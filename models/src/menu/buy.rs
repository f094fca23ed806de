//! What is bought for a dish.

/// Something to buy for a dish.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Buy {
    /// What it is, in the cook's words.
    pub what: String,
    /// How much of it.
    pub amount: Amount,
}

/// How much is bought, for the whole table or for each portion.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amount {
    /// Hundredths of the measure: 1 to 10^11.
    pub hundredths: i64,
    /// What is counted.
    pub measure: Measure,
    /// For each portion: an adult eats one, a child half of one.
    pub each: bool,
}

/// What an amount is counted in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Measure {
    /// By weight.
    Grams,
    /// By volume.
    Millilitres,
    /// By the piece, with the word for a piece: `bunches`; empty for what is just counted.
    Pieces(String),
}

impl Amount {
    /// Hundredths of the measure for a table, rounded up.
    ///
    /// ```
    /// use rangewright_models::units::amount;
    /// // Ten adults and two children eat eleven portions.
    /// assert_eq!(amount("250 g each").map(|own| own.at_table(12, 2)), Ok(275_000));
    /// assert_eq!(amount("2 bunches").map(|own| own.at_table(12, 2)), Ok(200));
    /// ```
    pub fn at_table(&self, guests: i64, children: i64) -> i64 {
        let halves = guests.saturating_mul(2).saturating_sub(children).max(0);
        if self.each { self.hundredths.saturating_mul(halves).saturating_add(1) / 2 } else { self.hundredths }
    }
}

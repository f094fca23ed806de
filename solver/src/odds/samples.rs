//! Drawing the minutes of many evenings.
//!
//! | What steps share | Of an evening's luck | Known |
//! |---|---|---|
//! | a batch: steps of one dish, alike in kind, place and minutes | all | our assumption: trays of one dough brown alike |
//! | a cavity | [`Shared::cavity`] | our assumption: an oven that runs cold slows everything in it |
//! | a cook, where hands are on the step throughout | [`Shared::cook`] | our assumption: who is slow is slow all evening |
//!
//! A share of a half means: in half of the evenings a step is as lucky as its oven or its cook is, in the other half it has
//! luck of its own. How long each step takes by itself is not changed by what it shares.

use std::collections::BTreeMap;

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};
use rangewright_models::problem::Minute;

use super::Shared;
use super::range::Range;
use crate::order::{Order, Run, start};

/// Streams of luck are numbered: steps from 0, cavities and cooks from these on.
const CAVITIES: u64 = 1 << 32;
const COOKS: u64 = 2 << 32;

/// Numbers from 0 to 1, one after the other: the same on every machine.
struct Luck(ChaCha8Rng);

impl Luck {
    /// Each stream has luck of its own: what is asked about one step does not change that of another.
    fn new(seed: u64, stream: u64) -> Self {
        let mut luck = ChaCha8Rng::seed_from_u64(seed);
        luck.set_stream(stream);
        Luck(luck)
    }

    fn next(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// The minutes of every step in each evening; `None` for those that always take the same.
///
/// The distribution is triangular: it says no more than the three numbers do, its variance is above that of the beta
/// distribution usual in PERT, so that doubts are not understated, and it takes only square roots, which come out alike on
/// every machine.
pub(super) fn minutes(
    order: &Order<'_>,
    ranges: &[Range],
    seed: u64,
    evenings: usize,
    shared: Shared,
) -> Vec<Option<Vec<f64>>> {
    let mut batches: BTreeMap<(&str, &str, Option<&str>, Range), u64> = BTreeMap::new();
    let mut common: BTreeMap<u64, Vec<f64>> = BTreeMap::new();
    let mut all = Vec::with_capacity(ranges.len());
    for (step, &range) in ranges.iter().enumerate() {
        if range.shortest == range.longest {
            all.push(None);
            continue;
        }
        let run = &order.runs[step];
        let place = run.mode.place.as_deref();
        let stream = *batches.entry((&run.step.dish, &run.step.kind, place, range)).or_insert(step as u64);
        let mut own = Luck::new(seed, stream);
        let (share, with) = source(order, step, run, shared);
        let drawn = (0..evenings).map(|evening| {
            let (coin, luck) = (own.next(), own.next());
            match with {
                Some(with) if coin < share => {
                    let all = common.entry(with).or_insert_with(|| {
                        let mut luck = Luck::new(seed, with);
                        (0..evenings).map(|_| luck.next()).collect()
                    });
                    at(range, all[evening])
                }
                _ => at(range, luck),
            }
        });
        all.push(Some(drawn.collect()));
    }
    all
}

/// What a step shares its luck with, and how often.
fn source(order: &Order<'_>, step: usize, run: &Run<'_>, shared: Shared) -> (f64, Option<u64>) {
    let place = run.mode.place.as_deref();
    let cavity = order.problem.places.iter().position(|own| run.mode.t.is_some() && Some(own.id()) == place);
    if let Some(cavity) = cavity {
        return (f64::from(shared.cavity) / 100.0, Some(CAVITIES + cavity as u64));
    }
    let throughout = |piece: &&crate::order::Piece| run.mode.hands > 0 && piece.begin.0 == start(step);
    let cook = order.pieces.iter().find(throughout).map(|piece| COOKS + piece.cook as u64);
    (f64::from(shared.cook) / 100.0, cook)
}

/// The minutes that a share of `luck` of all evenings do not exceed.
fn at(range: Range, luck: f64) -> f64 {
    let [low, mode, high] = [range.shortest, range.likely, range.longest].map(|minutes: Minute| minutes as f64);
    let width = high - low;
    if luck * width < mode - low {
        low + (luck * width * (mode - low)).sqrt()
    } else {
        high - ((1.0 - luck) * width * (high - mode)).sqrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_are_those_of_the_triangle() {
        let range = Range { shortest: 10, likely: 12, longest: 20 };
        assert_eq!([0.0, 0.2, 1.0].map(|luck| at(range, luck)), [10.0, 12.0, 20.0]);
        // Half of it lies below 20 - sqrt(0.5 * 10 * 8).
        assert!((at(range, 0.5) - (20.0 - 40.0_f64.sqrt())).abs() < 1e-12);
    }
}

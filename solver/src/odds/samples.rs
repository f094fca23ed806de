//! Drawing the minutes of many evenings.

use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::SeedableRng;
use rand_distr::{Distribution, Triangular};

use super::range::Range;

/// The minutes of one step in each evening; `None` if they are always the same.
///
/// The distribution is triangular: it says no more than the three numbers do, its variance is above that of the beta
/// distribution usual in PERT, so that doubts are not understated, and it takes only square roots, which come out alike on
/// every machine. Each step has a stream of its own: what is asked about one step does not change the luck of another.
pub(super) fn minutes(range: Range, seed: u64, stream: usize, evenings: usize) -> Option<Vec<f64>> {
    let Range { shortest, likely, longest } = range.ordered();
    if shortest == longest {
        return None;
    }
    let triangle = Triangular::new(shortest as f64, longest as f64, likely as f64).ok()?;
    let mut luck = ChaCha8Rng::seed_from_u64(seed);
    luck.set_stream(stream as u64);
    Some((0..evenings).map(|_| triangle.sample(&mut luck)).collect())
}

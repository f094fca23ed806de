//! A small seeded generator: the same seed gives the same search on every machine.

/// Steele, Lea and Flood's splitmix generator (2014).
#[derive(Clone, Debug)]
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Random(seed)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number in `0..count`; 0 if there is none.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        if count == 0 { 0 } else { (self.next() % count as u64) as usize }
    }

    /// True once in `of` times.
    pub(crate) fn one_in(&mut self, of: usize) -> bool {
        self.below(of) == 0
    }

    /// Fisher and Yates.
    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repeats_with_the_same_seed_and_shuffles_without_loss() {
        let (mut first, mut second) = (Random::new(7), Random::new(7));
        assert!((0..100).all(|_| first.next() == second.next()));
        let mut items: Vec<usize> = (0..20).collect();
        first.shuffle(&mut items);
        assert_ne!(items, (0..20).collect::<Vec<_>>());
        items.sort_unstable();
        assert_eq!(items, (0..20).collect::<Vec<_>>());
    }

    /// Reference values of splitmix64 with seed 1234567, as widely published with its C source (from memory).
    #[test]
    fn agrees_with_published_values() {
        let mut random = Random::new(1_234_567);
        assert_eq!(random.next(), 6_457_827_717_110_365_317);
        assert_eq!(random.next(), 3_203_168_211_198_807_973);
    }
}

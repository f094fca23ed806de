use proptest::prelude::*;

use super::*;
use crate::limits::Limits;
use crate::local::{Improver, evening};

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// What the programs prove, ruin and recreate does not beat, and what they find keeps all rules.
    #[test]
    fn proofs_hold(seed in any::<u64>()) {
        let problem = evening(seed, 2);
        let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
        let limits = Limits::default();
        let mut board = Board::new(&instance, &limits);
        board.start_slice(u64::MAX);
        prop_assert!(prove(&mut board, 20_000));
        let bounds = board.bounds();
        let proved = board.incumbent().map(|(cost, assignment)| (*cost, valid(&instance, assignment)));
        if let Some((cost, valid)) = proved {
            prop_assert!(valid);
            prop_assert!(bounds[0] <= cost[0]);
        }
        let mut other = Board::new(&instance, &limits);
        other.start_slice(1500);
        Improver::new(&instance, None).run(&mut other);
        if let Some((cost, _)) = other.incumbent() {
            prop_assert!(bounds[0] <= cost[0]);
            prop_assert!(cost[0] > bounds[0] || proved.is_none_or(|(best, _)| best[0] != cost[0]) || bounds[1] <= cost[1]);
        }
    }

    /// Working a plan over keeps it valid and makes nothing worse.
    #[test]
    fn reworking_only_improves(seed in any::<u64>()) {
        let problem = evening(seed, 4);
        let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
        let limits = Limits::default();
        let mut board = Board::new(&instance, &limits);
        board.start_slice(60);
        Improver::new(&instance, None).run(&mut board);
        let Some(before) = board.incumbent().map(|(cost, _)| *cost) else { return Ok(()) };
        board.start_slice(u64::MAX);
        let better = rework(&mut board, 3_000);
        let Some((after, assignment)) = board.incumbent() else { return Ok(()) };
        prop_assert!(valid(&instance, assignment));
        prop_assert_eq!(better, *after < before);
        prop_assert_eq!(after[0], before[0]);
    }
}

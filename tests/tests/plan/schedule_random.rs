//! The best plans of random problems, found by enumeration, give schedules that can be done.

use proptest::prelude::*;
use rangewright::models::check::check;
use rangewright::models::schedule;
use rangewright_tests::oracle::{Verdict, enumerate};
use rangewright_tests::random::{Size, problem};

/// Beginnings of plans the oracle looks at.
const MOST: u64 = 20_000;

fn cases() -> u32 {
    std::env::var("SCHEDULE_CASES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(400)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_can_be_done(problem in prop_oneof![problem(Size::SMALL), problem(Size::MEDIUM)]) {
        if let Verdict::Best(best) = enumerate(&problem, MOST) {
            let plan = best.plan(&problem);
            prop_assert!(check(&problem, &plan).is_ok());
            let day = schedule::schedule(&problem, &plan);
            let faults = schedule::check(&problem, &plan, &day);
            prop_assert!(
                faults.is_empty(),
                "{faults:?}\n{}\n{}",
                serde_json::to_string(&problem).unwrap_or_default(),
                serde_json::to_string(&plan).unwrap_or_default()
            );
        }
    }
}

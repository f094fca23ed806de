//! The solver against an oracle that enumerates all plans of tiny random problems.

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use rangewright::models::check::check;
use rangewright::models::plan::Status;
use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome, StopReason, solve};
use rangewright_tests::oracle::{Verdict, enumerate};
use rangewright_tests::random::{Size, problem};

/// Far more than any of these problems takes. A search that reaches it has lost its way.
const WORK: u64 = 2_000_000;
/// Beginnings of plans the oracle looks at.
const MOST: u64 = 100_000;

fn agrees(problem: &Problem) -> Result<(), TestCaseError> {
    prop_assert_eq!(problem.faults(), []);
    let expected = match enumerate(problem, MOST) {
        Verdict::Best(best) => Some(best.goals),
        Verdict::Impossible => None,
        Verdict::TooLarge => return Err(TestCaseError::reject("too large to enumerate")),
    };
    let limits = Limits { work: Some(WORK), ..Limits::default() };
    let found = match solve(problem, &limits) {
        Ok(Outcome::Planned(planned)) => {
            let cost = check(problem, &planned.plan);
            prop_assert!(cost.is_ok(), "{:?}", cost);
            prop_assert_eq!(planned.plan.status, Status::Optimal);
            prop_assert_eq!(planned.stopped_by, StopReason::Proof);
            Some([planned.plan.lateness, planned.plan.waiting, planned.plan.hot])
        }
        Ok(Outcome::Impossible(conflict)) => {
            prop_assert!(!conflict.reasons.is_empty(), "a no has its reasons");
            None
        }
        other => return Err(TestCaseError::fail(format!("{other:?}"))),
    };
    prop_assert_eq!(found, expected, "found, expected; {}", serde_json::to_string(problem).unwrap_or_default());
    Ok(())
}

fn config(cases: u32) -> ProptestConfig {
    ProptestConfig { cases, failure_persistence: None, max_global_rejects: 10 * cases, ..ProptestConfig::default() }
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn small_problems_are_solved_as_by_enumeration(problem in problem(Size::SMALL)) {
        agrees(&problem)?;
    }
}

proptest! {
    #![proptest_config(config(150))]

    #[test]
    fn larger_problems_are_solved_as_by_enumeration(problem in problem(Size::MEDIUM)) {
        agrees(&problem)?;
    }
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn crowded_problems_are_solved_as_by_enumeration(problem in problem(Size::CROWDED)) {
        agrees(&problem)?;
    }
}

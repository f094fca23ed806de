//! The solver against an oracle that enumerates all plans of tiny random problems.

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use rangewright::models::check::check;
use rangewright::models::plan::Status;
use rangewright::models::problem::{Hob, Mode, Place, Problem};
use rangewright::{Limits, Outcome, StopReason, solve};
use rangewright_tests::oracle::{Verdict, enumerate};
use rangewright_tests::random::{Size, counter, peopled, problem};

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

/// The same steps as a race over two burners with one place each, in which only orders and choices of burners matter: what
/// bounds by the work there is in one place are made for.
fn race(mut problem: Problem) -> Problem {
    for place in &mut problem.places {
        if matches!(place, Place::Hob(_) | Place::Top(_)) {
            let id = place.id().to_owned();
            *place = Place::Hob(Hob { id, count: 1, scale: [1, 9], min_diameter: 1, max_diameter: 9 });
        }
    }
    for (index, mode) in problem.steps.iter_mut().flat_map(|step| &mut step.modes).enumerate() {
        let burner = if index % 2 == 0 { "hob" } else { "top" };
        *mode = Mode { min: mode.min, max: mode.max, cost: mode.cost, wait: mode.wait, ..counter() };
        if mode.min > 0 {
            (mode.place, mode.level, mode.diameter) = (Some(burner.to_owned()), Some([1, 5]), Some(2));
        }
    }
    for link in &mut problem.links {
        (link.min, link.stay) = (link.min.max(0), false);
        link.max = link.max.map(|max| max.max(link.min));
    }
    let sinks = problem.courses.drain(1..).flat_map(|course| course.sinks).collect::<Vec<_>>();
    let course = &mut problem.courses[0];
    (course.serve, course.max_slip, course.after) = (1, 20, None);
    course.sinks.extend(sinks);
    problem
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

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn races_are_solved_as_by_enumeration(problem in problem(Size { steps: 6, ..Size::CROWDED })) {
        agrees(&race(problem))?;
    }
}

proptest! {
    #![proptest_config(config(300))]

    #[test]
    fn problems_with_named_cooks_are_solved_as_by_enumeration(problem in peopled(Size::SMALL)) {
        agrees(&problem)?;
    }
}

proptest! {
    #![proptest_config(config(200))]

    #[test]
    fn larger_problems_with_named_cooks_are_solved_as_by_enumeration(problem in peopled(Size::MEDIUM)) {
        agrees(&problem)?;
    }
}

//! The best plans of random problems, found by enumeration, give schedules that can be done.

use proptest::prelude::*;
use rangewright::models::check::check;
use rangewright::models::plan::{Plan, PlannedStep, Status};
use rangewright::models::problem::Problem;
use rangewright::models::schedule;
use rangewright_tests::oracle::{Best, Verdict, enumerate};
use rangewright_tests::random::{Size, problem};

/// Beginnings of plans the oracle looks at.
const MOST: u64 = 20_000;

fn plan(problem: &Problem, best: &Best) -> Plan {
    let planned = |&(mode, start, end): &(usize, i64, i64)| PlannedStep::new(mode, start, end);
    let [lateness, waiting, hot] = best.goals;
    Plan {
        steps: problem.steps.iter().map(|step| step.id.clone()).zip(best.steps.iter().map(planned)).collect(),
        served: problem.courses.iter().map(|course| course.id.clone()).zip(best.served.iter().copied()).collect(),
        hands: Vec::new(),
        lateness,
        waiting,
        hot,
        bounds: best.goals,
        status: Status::Optimal,
        made_for: None,
    }
}

fn cases() -> u32 {
    std::env::var("SCHEDULE_CASES").ok().and_then(|cases| cases.parse().ok()).unwrap_or(400)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_plan_can_be_done(problem in prop_oneof![problem(Size::SMALL), problem(Size::MEDIUM)]) {
        if let Verdict::Best(best) = enumerate(&problem, MOST) {
            let plan = plan(&problem, &best);
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

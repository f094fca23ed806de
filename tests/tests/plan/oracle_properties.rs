//! What must not matter, and what can only help.

use std::collections::BTreeMap;

use proptest::prelude::*;
use proptest::test_runner::TestCaseError;
use rangewright::models::check::cost;
use rangewright::models::plan::Plan;
use rangewright::models::problem::{Place, Problem};
use rangewright::{Limits, Outcome, solve};
use rangewright_tests::data;
use rangewright_tests::random::{Size, problem};

/// The goals of a best plan; none if there is no plan. A search without a proof is thrown away.
fn best(problem: &Problem) -> Result<Option<[i64; 3]>, TestCaseError> {
    let limits = Limits { work: Some(500_000), ..Limits::default() };
    match solve(problem, &limits).map_err(|error| TestCaseError::fail(error.to_string()))? {
        Outcome::Planned(planned)
            if planned.plan.bounds == [planned.plan.lateness, planned.plan.waiting, planned.plan.hot] =>
        {
            Ok(Some(planned.plan.bounds))
        }
        Outcome::Impossible(_) => Ok(None),
        _ => Err(TestCaseError::reject("not proved")),
    }
}

/// Everything the other way round, and under other names.
fn renamed(problem: &Problem) -> Problem {
    let new = |id: &str| format!("z{}-{id}", id.len());
    let pools = |pools: &BTreeMap<String, i64>| pools.iter().map(|(id, &amount)| (new(id), amount)).collect();
    let mut other = problem.clone();
    other.pools = pools(&problem.pools);
    other.cooks.reverse();
    other.shifts.reverse();
    other.places.reverse();
    other.dishes.reverse();
    other.courses.reverse();
    other.steps.reverse();
    other.links.reverse();
    for place in &mut other.places {
        let id = match place {
            Place::Cavity(cavity) => &mut cavity.id,
            Place::Hob(hob) => &mut hob.id,
            Place::Top(top) => &mut top.id,
        };
        *id = new(id);
    }
    other.dishes.iter_mut().for_each(|dish| dish.id = new(&dish.id));
    for course in &mut other.courses {
        course.id = new(&course.id);
        course.sinks.reverse();
        for sink in &mut course.sinks {
            sink.step = new(&sink.step);
            sink.pools = pools(&sink.pools);
        }
        course.after.iter_mut().for_each(|after| after.course = new(&after.course));
    }
    for step in &mut other.steps {
        step.id = new(&step.id);
        step.dish = new(&step.dish);
        for mode in &mut step.modes {
            mode.place.iter_mut().for_each(|place| *place = new(place));
            mode.pools = pools(&mode.pools);
            mode.touches.reverse();
        }
    }
    for link in &mut other.links {
        link.from = new(&link.from);
        link.to = new(&link.to);
        link.pools = pools(&link.pools);
    }
    other
}

/// The same kitchen with a second oven, in which everything can be done that the first can do.
fn with_another_oven(problem: &Problem) -> Problem {
    let mut other = problem.clone();
    let oven = problem.places.iter().find(|place| place.id() == "oven").cloned();
    if let Some(Place::Cavity(mut oven)) = oven {
        oven.id = "another".to_owned();
        other.places.push(Place::Cavity(oven));
    }
    for step in &mut other.steps {
        let mut copies: Vec<_> =
            step.modes.iter().filter(|mode| mode.place.as_deref() == Some("oven")).cloned().collect();
        copies.iter_mut().for_each(|mode| mode.place = Some("another".to_owned()));
        step.modes.extend(copies);
    }
    other
}

fn with_another_cook(problem: &Problem) -> Problem {
    let mut other = problem.clone();
    other.shifts.iter_mut().for_each(|shift| shift.hands += 1);
    other
}

fn no_worse(better: Option<[i64; 3]>, than: Option<[i64; 3]>) -> bool {
    than.is_none_or(|than| better.is_some_and(|better| better <= than))
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 120, failure_persistence: None, max_global_rejects: 1_000, ..ProptestConfig::default()
    })]

    #[test]
    fn order_and_names_do_not_matter(problem in problem(Size::CROWDED)) {
        prop_assert_eq!(best(&renamed(&problem))?, best(&problem)?);
    }

    #[test]
    fn another_oven_never_makes_it_worse(problem in problem(Size::CROWDED)) {
        let (with, without) = (best(&with_another_oven(&problem))?, best(&problem)?);
        prop_assert!(no_worse(with, without), "{:?} {:?}", with, without);
    }

    #[test]
    fn another_cook_never_makes_it_worse(problem in problem(Size::CROWDED)) {
        let (with, without) = (best(&with_another_cook(&problem))?, best(&problem)?);
        prop_assert!(no_worse(with, without), "{:?} {:?}", with, without);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whether or not the work suffices for a proof.
    #[test]
    fn the_same_question_has_the_same_answer_to_the_byte(problem in problem(Size::CROWDED), work in 1..3_000_u64) {
        let answer = || {
            let limits = Limits { work: Some(work), ..Limits::default() };
            let outcome = solve(&problem, &limits).map_err(|error| TestCaseError::fail(error.to_string()))?;
            serde_json::to_string(&outcome).map_err(|error| TestCaseError::fail(error.to_string()))
        };
        prop_assert_eq!(answer()?, answer()?);
    }
}

#[test]
fn order_changes_no_cost_of_the_reference_plans() {
    for name in data::names("kitchens/plans") {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let plan: Plan = data::json(&format!("kitchens/plans/{name}.json"));
        let new = |id: &String| format!("z{}-{id}", id.len());
        let other = Plan {
            steps: plan.steps.iter().map(|(id, planned)| (new(id), planned.clone())).collect(),
            served: BTreeMap::new(),
            ..plan.clone()
        };
        let goals = |problem: &Problem, plan: &Plan| cost(problem, plan).map(|cost| cost.goals());
        assert_eq!(goals(&renamed(&problem), &other), goals(&problem, &plan), "{name}");
    }
}

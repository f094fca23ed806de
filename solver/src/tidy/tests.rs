use proptest::prelude::*;
use rangewright_models::problem::Problem;
use serde_json::json;

use super::*;
use crate::board::Board;
use crate::limits::Limits;
use crate::local::{Improver, evening};

fn untidiness(instance: &Instance<'_>, plan: &Assignment) -> Untidiness {
    let tidier = Tidier::new(instance, plan.clone());
    tidier.untidiness(&(0..plan.steps.len()).collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 32, ..ProptestConfig::default() })]

    #[test]
    fn tidying_keeps_the_rules_and_the_goals(seed in any::<u64>()) {
        let problem = evening(seed, 3);
        let Ok(instance) = Instance::new(&problem) else { return Ok(()) };
        let limits = Limits { work: Some(200), ..Limits::default() };
        let mut board = Board::new(&instance, &limits);
        Improver::new(&instance, None).run(&mut board);
        let Some((cost, plan)) = board.incumbent() else { return Ok(()) };
        let tidied = tidy(&instance, plan.clone(), 20_000);
        prop_assert!(valid(&instance, &tidied));
        prop_assert!(tidied.cost(&instance).iter().zip(cost).all(|(new, old)| new <= old));
        prop_assert!(untidiness(&instance, &tidied) <= untidiness(&instance, plan));
        let again = tidy(&instance, tidied.clone(), 20_000);
        prop_assert_eq!(again, tidied);
    }
}

/// Cutting fruit keeps for hours at no cost; whisking has to be done at the end.
fn fruit_and_cream() -> Problem {
    let step = |id: &str, minutes: i64| {
        json!({"id": id, "dish": "fool", "kind": id, "earliest": null, "latest": null,
            "wait": {"rate": 0, "soft": null, "rate_after": 0},
            "modes": [{"place": null, "min": minutes, "max": minutes, "hands": 1}]})
    };
    let problem = json!({
        "name": "fool", "opening": 0, "shifts": [{"start": 0, "end": 600, "hands": 1}], "pools": {}, "places": [],
        "dishes": [{"id": "fool", "name": "gooseberry fool"}],
        "courses": [{"id": "last", "serve": 300, "weight": 1, "max_slip": 0, "together": 0,
            "sinks": [{"step": "whisk", "wait": {"rate": 0, "soft": null, "rate_after": 0}}], "after": null}],
        "steps": [step("cut", 10), step("whisk", 5)],
        "links": [{"from": "cut", "to": "whisk", "min": 0, "max": null, "stay": false,
            "wait": {"rate": 0, "soft": 120, "rate_after": 1}}]});
    serde_json::from_value(problem).expect("the form is right")
}

#[test]
fn work_leaves_the_last_hour_for_the_nearest_mark_before_it() {
    let problem = fruit_and_cream();
    let instance = Instance::new(&problem).expect("there is time");
    let choice = |start, end| Choice { mode: 0, start, end };
    let plan = Assignment { steps: vec![choice(283, 293), choice(295, 300)], served: vec![300] };
    let tidied = tidy(&instance, plan, 10_000);
    // Out of 240..300, at a five-minute mark, and no earlier than that asks for.
    assert_eq!(tidied.steps, [choice(230, 240), choice(295, 300)]);
    assert_eq!(tidied.cost(&instance), [0, 0, 0]);
}

#[test]
fn a_broken_plan_comes_back_as_it_is() {
    let problem = fruit_and_cream();
    let instance = Instance::new(&problem).expect("there is time");
    let choice = |start, end| Choice { mode: 0, start, end };
    let plan = Assignment { steps: vec![choice(297, 307), choice(295, 300)], served: vec![300] };
    assert_eq!(tidy(&instance, plan.clone(), 10_000), plan);
}

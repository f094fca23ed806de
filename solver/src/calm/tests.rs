//! Room is had for what was said it may cost, and the odds rise.

use rangewright_models::check::check;
use rangewright_models::examples;
use rangewright_models::plan::{Plan, PlannedStep};
use rangewright_models::problem::Problem;
use rangewright_models::schedule::Crew;

use super::calm;
use crate::odds::{Dice, ranges};
use crate::{FeastPlan, Limits, Outcome, Planner};

/// The examples that can be planned, planned.
fn planned() -> impl Iterator<Item = FeastPlan> {
    examples::ALL.iter().filter_map(|example| {
        let planner = Planner::read(example.menu, example.menu_name, |name| example.kitchen_text(name)).ok()?;
        let limits = Limits { work: Some(3_000), ..Limits::default() };
        let Ok(Outcome::Planned(feast)) = planner.plan(&limits) else { return None };
        Some(feast)
    })
}

/// The mean share of courses within five minutes, in a thousand.
fn kept(feast: &FeastPlan) -> usize {
    let dice = Dice { evenings: 1_000, ..Dice::default() };
    let odds = feast.odds(10, dice).expect("a plan");
    odds.courses.iter().map(|course| course.kept[1]).sum::<usize>() / odds.courses.len()
}

#[test]
fn examples_become_calmer_for_what_was_agreed() {
    let (mut before, mut after, mut count) = (0, 0, 0);
    for feast in planned() {
        let (plan, name) = (feast.plan(), &feast.problem().name);
        for price in [0, 5] {
            let (calmer, waiting) = feast.calmer(10, price, None).expect("a price that is legal");
            let calm = calmer.plan();
            check(feast.problem(), calm).expect("the checker accepts it");
            assert_eq!((calm.lateness, &calm.served), (plan.lateness, &plan.served), "{name}");
            assert!(100 * (calm.hot - plan.hot) <= plan.hot * i64::from(price), "{name}");
            assert_eq!(calm.waiting - plan.waiting, waiting, "{name}");
            assert!(100 * waiting <= plan.waiting.max(super::HOUR) * i64::from(price), "{name}");
            let (again, _) = feast.calmer(10, price, Some(calm)).expect("a price that is legal");
            assert_eq!(again.plan(), calm, "{name}: a plan that people have stays");
            assert!(
                calm.waiting <= plan.waiting || calm.bounds[2] == 0,
                "{name}: proved among those that wait no longer"
            );
            let odds = [kept(&feast), kept(&calmer)];
            let moved = plan.steps.iter().filter(|(id, own)| calm.steps[*id] != **own).count();
            println!("{name}: price {price}, waiting {} + {waiting}, odds {odds:?}, moved {moved}", plan.waiting);
            if price == 5 {
                (before, after, count) = (before + odds[0], after + odds[1], count + 1);
            }
        }
    }
    assert!(count > 3, "most examples can be planned");
    assert!(after > before, "{before} before, {after} after");
}

#[test]
fn a_price_over_all_of_it_is_refused() {
    let feast = planned().next().expect("there is an example");
    let crew = feast.planner().crew();
    assert!(calm(feast.problem(), feast.plan(), crew, &feast.ranges(10), 101, None).is_err());
}

/// A stew that may take nine minutes longer, stirred in the minute after its cook has peeled.
fn stirred(touch: &str) -> PlannedStep {
    let text = r#"{"name": "stew", "opening": 0, "shifts": [{"start": 0, "end": 120, "hands": 1}], "pools": {}, "places": [],
        "dishes": [{"id": "stew", "name": "Stew"}, {"id": "roots", "name": "Roots"}],
        "courses": [{"id": "supper", "serve": 100, "weight": 1, "max_slip": 10, "together": 40, "after": null,
            "sinks": [{"step": "simmer", "wait": WAIT}, {"step": "peel", "wait": WAIT}]}],
        "steps": [
            {"id": "simmer", "dish": "stew", "kind": "simmer", "earliest": null, "latest": null, "wait": WAIT,
             "modes": [{"min": 60, "max": 60, "hands": 0, "touches": [TOUCH], "spread": [0, 9]}]},
            {"id": "peel", "dish": "roots", "kind": "prep", "earliest": 50, "latest": 70, "wait": WAIT,
             "modes": [{"min": 20, "max": 20, "hands": 1}]}],
        "links": []}"#;
    let wait = r#"{"rate": 0, "soft": null, "rate_after": 0}"#;
    let problem: Problem =
        serde_json::from_str(&text.replace("WAIT", wait).replace("TOUCH", touch)).expect("a problem");
    let plan: Plan = serde_json::from_str(
        r#"{"steps": {"simmer": {"mode": 0, "start": 40, "end": 100}, "peel": {"mode": 0, "start": 50, "end": 70}},
            "served": {"supper": 100}, "lateness": 0, "waiting": 0, "hot": 0, "bounds": [0, 0, 0], "status": "optimal"}"#,
    )
    .expect("a plan");
    let calm = calm(&problem, &plan, &Crew::of(&problem), &ranges(&problem, &plan, 0), 0, None).expect("a plan");
    check(&problem, &calm.plan).expect("the checker accepts it");
    calm.plan.steps["simmer"].clone()
}

#[test]
fn what_floats_stays_with_its_cook_while_its_step_moves() {
    let floats = stirred(r#"{"at": 30, "minutes": 1, "early": 8, "late": 8}"#);
    assert_eq!((floats.start, floats.end, &floats.touches[..]), (32, 92, &[38][..]));
    let fixed = stirred("[30, 1]");
    assert_eq!((fixed.start, fixed.end), (40, 100), "the cook has no hand free any sooner");
}

//! Room is had for what was said it may cost, and the odds rise.

use rangewright_models::check::check;
use rangewright_models::examples;

use super::calm;
use crate::odds::Dice;
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

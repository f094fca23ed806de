//! The reference plans are accepted, and cost what the reference says.

use std::collections::BTreeMap;

use rangewright::models::check::{check, cost};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright_tests::data;

/// The three goals of each plan, as in `reference.csv`.
fn reference() -> BTreeMap<String, [i64; 3]> {
    let rows = data::csv("kitchens/reference.csv");
    let column = |name: &str| rows[0].iter().position(|header| header == name).expect("the header names it");
    let columns = ["lateness", "waiting", "hot"].map(column);
    let values = |row: &Vec<String>| Some(columns.map(|i| row[i].parse().ok()));
    let complete = rows[1..].iter().filter_map(|row| {
        let [Some(lateness), Some(waiting), Some(hot)] = values(row)? else { return None };
        Some((row[0].clone(), [lateness, waiting, hot]))
    });
    complete.collect()
}

#[test]
fn every_reference_plan_is_accepted_at_its_stated_cost() {
    let reference = reference();
    let names = data::names("kitchens/plans");
    assert_eq!(names.len(), 43);
    for name in names {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let plan: Plan = data::json(&format!("kitchens/plans/{name}.json"));
        let checked = check(&problem, &plan).unwrap_or_else(|violations| panic!("{name}: {violations:#?}"));
        assert_eq!(checked.goals(), reference[&name], "{name}");
        assert_eq!(cost(&problem, &plan).as_ref(), Ok(&checked), "{name}");
    }
}

#[test]
fn servings_that_are_not_stated_are_the_least_possible() {
    for name in data::names("kitchens/plans") {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let mut plan: Plan = data::json(&format!("kitchens/plans/{name}.json"));
        let stated = std::mem::take(&mut plan.served);
        let checked = check(&problem, &plan).unwrap_or_else(|violations| panic!("{name}: {violations:#?}"));
        assert_eq!(checked.served, stated, "{name}");
    }
}

#[test]
fn problems_and_plans_survive_json() {
    for name in data::names("kitchens/plans") {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let plan: Plan = data::json(&format!("kitchens/plans/{name}.json"));
        let again: Problem = serde_json::from_str(&serde_json::to_string(&problem).unwrap()).unwrap();
        assert_eq!(again, problem, "{name}");
        let again: Plan = serde_json::from_str(&serde_json::to_string(&plan).unwrap()).unwrap();
        assert_eq!(again, plan, "{name}");
    }
}

#[test]
fn problems_and_plans_survive_ron() {
    for name in data::names("kitchens/plans") {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let plan: Plan = data::json(&format!("kitchens/plans/{name}.json"));
        let text = ron::to_string(&problem).unwrap();
        let again: Problem = ron::from_str(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert_eq!(again, problem, "{name}");
        let again: Plan = ron::from_str(&ron::to_string(&plan).unwrap()).unwrap();
        assert_eq!(again, plan, "{name}");
    }
}

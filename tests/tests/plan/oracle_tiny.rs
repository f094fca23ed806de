//! The oracle itself against values known from elsewhere: for the tiny reference kitchens enumeration and a constraint
//! solver of others agree on all three goals (see `reference.csv`).

use std::collections::BTreeMap;

use rangewright::models::check::check;
use rangewright::models::problem::{Place, Problem, Shift};
use rangewright::{Limits, Outcome, solve};
use rangewright_tests::data;
use rangewright_tests::oracle::{Verdict, enumerate};

/// The goals of each tiny kitchen; none: impossible.
fn reference() -> BTreeMap<String, Option<[i64; 3]>> {
    let rows = data::csv("kitchens/reference.csv");
    let column = |name: &str| rows[0].iter().position(|header| header == name).expect("the header names it");
    let [verdict, lateness, waiting, hot] = ["verdict", "lateness", "waiting", "hot"].map(column);
    let number = |cell: &String| cell.parse().expect("a number");
    let goals = |row: &Vec<String>| {
        (row[verdict] == "optimal").then(|| [lateness, waiting, hot].map(|column| number(&row[column])))
    };
    rows[1..]
        .iter()
        .filter(|row| ["tiny", "ctiny"].contains(&row[1].as_str()))
        .map(|row| (row[0].clone(), goals(row)))
        .collect()
}

#[test]
fn the_oracle_agrees_with_the_reference() {
    let reference = reference();
    assert_eq!(reference.len(), 100);
    for (name, expected) in reference {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        match enumerate(&problem, 100_000_000) {
            Verdict::Best(best) => {
                assert_eq!(Some(best.goals), expected, "{name}");
                let plan = best.plan(&problem);
                let cost = check(&problem, &plan).unwrap_or_else(|broken| panic!("{name}: {broken:#?}"));
                assert_eq!(cost.goals(), best.goals, "{name}");
            }
            Verdict::Impossible => assert_eq!(None, expected, "{name}"),
            Verdict::TooLarge => panic!("{name} is too large"),
        }
    }
}

/// The tiny kitchens with ovens that somebody has to light, and cooks who all go away for a while.
#[test]
fn an_oven_that_somebody_lights_is_planned_as_the_oracle_says() {
    let (mut planned, mut changed, mut impossible) = (0, 0, 0);
    for name in reference().into_keys() {
        let mut problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let before = enumerate(&problem, 3_000_000);
        let shifts = std::mem::take(&mut problem.shifts);
        for shift in shifts {
            let middle = (shift.start + shift.end) / 2;
            problem.shifts.push(Shift { end: middle, ..shift });
            problem.shifts.push(Shift { start: (middle + 4).min(shift.end - 1), ..shift });
        }
        for place in &mut problem.places {
            if let Place::Cavity(cavity) = place {
                (cavity.attended, cavity.cool_off) = (true, 2);
            }
        }
        if !problem.faults().is_empty() {
            continue;
        }
        match (enumerate(&problem, 3_000_000), solve(&problem, &Limits::default()).expect("an answer")) {
            (Verdict::Best(best), Outcome::Planned(own)) => {
                let plan = own.plan;
                assert_eq!([plan.lateness, plan.waiting, plan.hot], best.goals, "{name}");
                check(&problem, &best.plan(&problem)).unwrap_or_else(|broken| panic!("{name}: {broken:#?}"));
                planned += 1;
                changed += usize::from(!matches!(before, Verdict::Best(before) if before.goals == best.goals));
            }
            (Verdict::Impossible, Outcome::Impossible(_)) => impossible += 1,
            (Verdict::TooLarge, _) => {}
            (oracle, own) => panic!("{name}: {oracle:?} and {own:?}"),
        }
    }
    assert!(
        planned >= 20 && changed >= 5,
        "{planned} planned, {changed} otherwise than before, {impossible} impossible"
    );
}

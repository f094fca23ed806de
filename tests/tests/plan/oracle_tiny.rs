//! The oracle itself against values known from elsewhere: for the tiny reference kitchens enumeration and a constraint
//! solver of others agree on all three goals (see `reference.csv`).

use std::collections::BTreeMap;

use rangewright::models::check::check;
use rangewright::models::problem::Problem;
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

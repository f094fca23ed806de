//! Kitchens with named cooks, touches that float and food that takes up room while it waits: plans, and the other questions.
//! The reference is a constraint solver of others; see `tests/data/kitchens/reference.csv`.

use std::collections::BTreeMap;

use rangewright::ask::{HowSoon, how_soon};
use rangewright::models::check::check;
use rangewright::models::problem::Problem;
use rangewright::why::{Verdict, why_not, without};
use rangewright::{Limits, Outcome, solve};
use rangewright_tests::data;

fn kitchens(family: &str) -> Vec<(String, Problem)> {
    let names = data::names("kitchens/instances").into_iter().filter(|name| name.starts_with(family));
    names.map(|name| (name.clone(), data::json(&format!("kitchens/instances/{name}.json")))).collect()
}

/// For each goal the reference's best value, and its lower bound.
fn reference() -> BTreeMap<String, [[i64; 2]; 3]> {
    let rows = data::csv("kitchens/reference.csv");
    let column = |name: &str| rows[0].iter().position(|header| header == name).expect("the header names it");
    let goals = ["lateness", "waiting", "hot"].map(|goal| [column(goal), column(&format!("{goal}_bound"))]);
    let of = |row: &Vec<String>| goals.map(|goal| goal.map(|column| row[column].parse().expect("a number")));
    rows[1..].iter().filter(|row| row[1] == "crew").map(|row| (row[0].clone(), of(row))).collect()
}

/// Plans are valid, and no bound is above what is known to be possible.
fn nothing_false_is_said(names: &[&str]) {
    let limits = Limits { work: Some(30_000), ..Limits::default() };
    let reference = reference();
    for (name, problem) in kitchens("crew").into_iter().filter(|(name, _)| names.contains(&name.as_str())) {
        let answer = solve(&problem, &limits).unwrap_or_else(|error| panic!("{name}: {error}"));
        let Outcome::Planned(planned) = answer else { panic!("{name}: {answer:?}") };
        let goals = check(&problem, &planned.plan).unwrap_or_else(|broken| panic!("{name}: {broken:#?}")).goals();
        println!("{name}: {goals:?} bounds {:?}, reference {:?}", planned.plan.bounds, reference[&name]);
        let [lateness, waiting, _] = reference[&name];
        assert!(planned.plan.bounds[0] <= lateness[0] && lateness[1] <= goals[0], "{name}: {goals:?}");
        if goals[0] == lateness[0] {
            assert!(planned.plan.bounds[1] <= waiting[0] && waiting[1] <= goals[1], "{name}: {goals:?}");
        }
    }
}

#[test]
fn plans_for_few_dishes_with_named_cooks() {
    nothing_false_is_said(&["crew-2", "crew-4", "crew-7"]);
}

#[test]
#[ignore = "a minute without optimisation: run it with --release"]
fn plans_for_many_dishes_with_named_cooks() {
    nothing_false_is_said(&["crew-1", "crew-3", "crew-5", "crew-6", "crew-8"]);
}

#[test]
fn a_no_to_named_cooks_has_its_reasons_and_they_can_be_given_up() {
    let limits = Limits { work: Some(200_000), ..Limits::default() };
    let mut noes = 0;
    for (name, problem) in kitchens("ctiny") {
        let Ok(Verdict::Because(explanation)) = why_not(&problem, &limits) else { continue };
        noes += 1;
        assert!(explanation.smallest && !explanation.facts.is_empty(), "{name}: {explanation:?}");
        for fact in &explanation.facts {
            let relaxed = without(&problem, std::slice::from_ref(fact));
            assert!(relaxed.faults().is_empty(), "{name} without {fact}: {:?}", relaxed.faults());
        }
    }
    assert_eq!(noes, 8, "the reference proves eight of them impossible");
}

#[test]
fn how_soon_is_answered_where_cooks_are_named() {
    let limits = Limits { work: Some(200_000), ..Limits::default() };
    for (name, problem) in kitchens("ctiny").into_iter().take(8) {
        let soon = how_soon(&problem, None, &limits).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(!matches!(soon, HowSoon::Undecided(_)), "{name}: {soon:?}");
    }
}

//! The solver on the reference kitchens whose best plans are known: proved optimal elsewhere, by enumeration (tiny) or by
//! a constraint solver. See `tests/data/kitchens/reference.csv`.

use std::collections::BTreeMap;

use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome, StopReason, solve};
use rangewright_tests::data;

/// The three goals, if the reference proved all of them; none: proved impossible.
fn proved(family: &str) -> BTreeMap<String, Option<[i64; 3]>> {
    let rows = data::csv("kitchens/reference.csv");
    let column = |name: &str| rows[0].iter().position(|header| header == name).expect("the header names it");
    let [verdict, lateness, waiting, hot] = ["verdict", "lateness", "waiting", "hot"].map(column);
    let of_family = rows[1..].iter().filter(|row| row[1] == family);
    let known = of_family.filter_map(|row| match row[verdict].as_str() {
        "optimal" => {
            let goals = [lateness, waiting, hot].map(|column| row[column].parse().expect("a number"));
            Some((row[0].clone(), Some(goals)))
        }
        "infeasible" => Some((row[0].clone(), None)),
        _ => None,
    });
    known.collect()
}

fn agrees(family: &str, count: usize, threads: usize) {
    let known = proved(family);
    assert_eq!(known.len(), count, "{family}");
    for (name, expected) in known {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let limits = Limits { work: Some(5_000_000), threads, ..Limits::default() };
        let found = match solve(&problem, &limits).expect("the problem makes sense") {
            Outcome::Planned(planned) => {
                assert_eq!(planned.stopped_by, StopReason::Proof, "{name}");
                Some([planned.plan.lateness, planned.plan.waiting, planned.plan.hot])
            }
            Outcome::Impossible(_) => None,
            Outcome::Undecided(progress) => panic!("{name}: {progress:?}"),
        };
        assert_eq!(found, expected, "{name}");
    }
}

#[test]
fn tiny_kitchens() {
    agrees("tiny", 70, 1);
}

#[test]
fn tiny_kitchens_with_named_cooks() {
    agrees("ctiny", 30, 1);
    agrees("ctiny", 30, 2);
}

#[test]
fn small_kitchens() {
    agrees("small", 7, 1);
}

#[test]
fn hard_kitchens() {
    agrees("hard", 7, 1);
}

#[test]
fn kitchens_whose_hours_may_not_suffice() {
    agrees("nohours", 7, 1);
}

#[test]
fn two_threads_prove_the_same() {
    agrees("tiny", 70, 2);
    agrees("small", 7, 2);
    agrees("nohours", 7, 2);
}

#[test]
#[ignore = "minutes without optimisation: run it with --release"]
fn dinners() {
    agrees("dinner", 6, 1);
}

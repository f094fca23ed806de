//! A long hunt for disagreements between the solver and the oracle, for whoever changes the solver:
//! `HUNT_CASES=20000 HUNT_SEED=7 cargo test --release -p rangewright-tests --test plan oracle_hunt -- --ignored --nocapture`.
//! `HUNT_SIZE` is 1 to 5, and `HUNT_PEOPLED=1` asks for named cooks, loose touches and food that takes up room while it waits; with `HUNT_PARTIAL=1` and a small `HUNT_WORK` only false statements count, not missing proofs.
//! Each disagreement is written to the folder named in `HUNT_OUT`, if there is one.

use std::fmt::Write as _;
use std::panic::AssertUnwindSafe;
use std::path::Path;

use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::{Config, RngAlgorithm, TestRng, TestRunner};
use rangewright::models::check::check;
use rangewright::models::plan::Status;
use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome, solve};
use rangewright_tests::oracle::{Verdict, enumerate};
use rangewright_tests::random::{Size, peopled, problem};

fn number(name: &str, default: u64) -> u64 {
    std::env::var(name).ok().and_then(|text| text.parse().ok()).unwrap_or(default)
}

/// What is wrong with the solver's answer, if anything, and whether the oracle had one.
fn disagreement(problem: &Problem) -> Result<bool, String> {
    let expected = match enumerate(problem, number("HUNT_MOST", 300_000)) {
        Verdict::Best(best) => Some(best.goals),
        Verdict::Impossible => None,
        Verdict::TooLarge => return Ok(false),
    };
    let threads = if number("HUNT_THREADS", 1) > 1 { 2 } else { 1 };
    let limits = Limits { work: Some(number("HUNT_WORK", 2_000_000)), threads, ..Limits::default() };
    let answer =
        std::panic::catch_unwind(AssertUnwindSafe(|| solve(problem, &limits))).map_err(|_| "panic".to_owned())?;
    let found = match answer {
        Ok(Outcome::Planned(planned)) => {
            check(problem, &planned.plan).map_err(|broken| format!("invalid: {broken:?}"))?;
            let goals = [planned.plan.lateness, planned.plan.waiting, planned.plan.hot];
            if planned.plan.status != Status::Optimal {
                let Some(expected) = expected else { return Err(format!("planned the impossible: {goals:?}")) };
                let word = if sound(goals, planned.plan.bounds, expected) { "not proved" } else { "wrong bound" };
                if word == "not proved" && number("HUNT_PARTIAL", 0) > 0 {
                    return Ok(true);
                }
                return Err(format!("{word}: {goals:?} bounds {:?}, best {expected:?}", planned.plan.bounds));
            }
            Some(goals)
        }
        Ok(Outcome::Impossible(_)) => None,
        Ok(Outcome::Undecided(progress)) => {
            let sound = expected.is_none_or(|best| progress.bounds[0] <= best[0]);
            if sound && number("HUNT_PARTIAL", 0) > 0 {
                return Ok(true);
            }
            return Err(format!("undecided: {progress:?}, best {expected:?}"));
        }
        Err(error) => return Err(format!("error: {error}")),
    };
    if found == expected { Ok(true) } else { Err(format!("wrong proof: {found:?}, best {expected:?}")) }
}

/// Whether the bounds of a plan hold: each among plans that are no worse in the goals before it.
fn sound(goals: [i64; 3], bounds: [i64; 3], best: [i64; 3]) -> bool {
    bounds[0] <= best[0] && bounds[1] <= best[1] && (best[1] > goals[1] || bounds[2] <= best[2])
}

/// The smallest version of a case that is wrong in the same way.
fn shrink(tree: &mut impl ValueTree<Value = Problem>, kind: &str) -> Problem {
    let wrong = |problem: &Problem| disagreement(problem).is_err_and(|what| what.starts_with(kind));
    let mut smallest = tree.current();
    let mut tries = 0;
    let mut more = tree.simplify();
    while more && tries < 3_000 {
        tries += 1;
        let candidate = tree.current();
        more = if wrong(&candidate) {
            smallest = candidate;
            tree.simplify()
        } else {
            tree.complicate()
        };
    }
    smallest
}

#[test]
#[ignore = "takes as long as one lets it"]
fn hunt() {
    let (cases, seed) = (number("HUNT_CASES", 2_000), number("HUNT_SEED", 1));
    let size = match number("HUNT_SIZE", 2) {
        1 => Size::SMALL,
        2 => Size::MEDIUM,
        3 => Size::CROWDED,
        4 => Size { steps: 7, modes: 2, stretch: 2, serve: 16, slip: 8, crowded: true },
        _ => Size { steps: 9, modes: 3, stretch: 3, serve: 18, slip: 3, crowded: false },
    };
    let mut bytes = [7_u8; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let mut runner = TestRunner::new_with_rng(Config::default(), TestRng::from_seed(RngAlgorithm::ChaCha, &bytes));
    let (mut compared, mut report) = (0, String::new());
    for case in 0..cases {
        let kind = if number("HUNT_PEOPLED", 0) > 0 { peopled(size).boxed() } else { problem(size).boxed() };
        let mut tree = kind.new_tree(&mut runner).expect("a problem");
        match disagreement(&tree.current()) {
            Ok(answered) => compared += u64::from(answered),
            Err(what) => {
                let kind = what.split(':').next().unwrap_or_default().to_owned();
                let smallest = shrink(&mut tree, &kind);
                let what = disagreement(&smallest).expect_err("it was wrong a moment ago");
                writeln!(report, "seed {seed} case {case}: {what}").expect("text can be written");
                println!("seed {seed} case {case}: {what}");
                if let Ok(folder) = std::env::var("HUNT_OUT") {
                    let path = Path::new(&folder).join(format!("{seed}-{case}.json"));
                    let text = serde_json::to_string_pretty(&smallest).expect("a problem can be written");
                    std::fs::write(path, text).expect("HUNT_OUT can be written to");
                }
            }
        }
    }
    println!("{compared} of {cases} compared");
    assert!(report.is_empty(), "{report}");
}

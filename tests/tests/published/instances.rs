//! Published scheduling instances, solved to the optimum that the literature names.
//!
//! Sources are in `data/published/README.md`.

use rangewright::models::check::check;
use rangewright::models::plan::Status;
use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome};
use rangewright_tests::data;

/// Far more than any of them needs.
const WORK: u64 = 20_000_000;

fn solve(name: &str) -> (Problem, Outcome) {
    let problem: Problem = data::json(&format!("published/{name}.json"));
    let limits = Limits { work: Some(WORK), ..Limits::default() };
    let outcome = rangewright::solve(&problem, &limits).expect("a published instance makes sense");
    (problem, outcome)
}

#[track_caller]
fn proves(name: &str, makespan: i64) {
    let (problem, outcome) = solve(name);
    let Outcome::Planned(planned) = outcome else { panic!("{name}: {outcome:?}") };
    let cost = check(&problem, &planned.plan).expect("a plan of this problem");
    assert_eq!([cost.lateness, cost.waiting, cost.hot], [makespan, 0, 0], "{name}");
    assert_eq!(planned.plan.status, Status::Optimal, "{name}: bounds {:?}", planned.plan.bounds);
}

#[test]
fn fisher_and_thompson_1963_ft06() {
    proves("ft06", 55);
}

#[test]
fn lawrence_1984_la01() {
    proves("la01", 666);
}

#[test]
fn hurink_jurisch_and_thole_1994_edata_la01() {
    proves("edata_la01", 609);
}

#[test]
fn psplib_1996_j301_1() {
    proves("j301_1", 43);
}

#[test]
fn progen_max_1995_psp1() {
    proves("sm_j10_psp1", 26);
}

#[test]
fn progen_max_1995_psp2_has_no_schedule() {
    let (_, outcome) = solve("sm_j10_psp2");
    assert!(matches!(outcome, Outcome::Impossible(_)), "{outcome:?}");
}

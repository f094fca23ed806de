//! Optima proved by an independent integer program: see `data/crosscheck/README.md`.

use rangewright::models::plan::Status;
use rangewright::models::problem::Problem;
use rangewright::{Limits, Outcome};
use rangewright_tests::data;
use serde::Deserialize;

#[derive(Deserialize)]
struct Proved {
    problem: Problem,
    values: Option<[i64; 3]>,
}

#[test]
fn highs_proved_the_same_optima() {
    let lines = data::text("crosscheck/random.jsonl");
    let proved = lines.lines().map(|line| serde_json::from_str::<Proved>(line).expect("a line of the record"));
    let (mut plans, mut impossible) = (0, 0);
    for Proved { problem, values } in proved {
        let limits = Limits { work: Some(1_000_000), ..Limits::default() };
        let found = match rangewright::solve(&problem, &limits).expect("a random problem makes sense") {
            Outcome::Planned(planned) => {
                assert_eq!(planned.plan.status, Status::Optimal, "{}: {:?}", problem.name, planned.plan.bounds);
                plans += 1;
                Some([planned.plan.lateness, planned.plan.waiting, planned.plan.hot])
            }
            Outcome::Impossible(_) => {
                impossible += 1;
                None
            }
            Outcome::Undecided(progress) => panic!("{}: {progress:?}", problem.name),
        };
        assert_eq!(found, values, "{}", problem.name);
    }
    assert!(plans > 50 && impossible > 20, "{plans} plans, {impossible} impossible");
}

//! What no engine bears yet is answered with "not known", and never with a proof.

use rangewright::ask::{HowSoon, how_soon};
use rangewright::models::problem::Problem;
use rangewright::why::{Verdict, why_not};
use rangewright::{Limits, Outcome, StopReason, solve};
use rangewright_tests::data;

#[test]
fn nothing_is_claimed_of_named_cooks() {
    let names = data::names("kitchens/instances");
    let named: Vec<String> =
        names.into_iter().filter(|name| name.starts_with("crew") || name.starts_with("ctiny")).collect();
    assert!(named.len() > 30, "{named:?}");
    let limits = Limits { work: Some(1_000), ..Limits::default() };
    for name in named {
        let problem: Problem = data::json(&format!("kitchens/instances/{name}.json"));
        let beyond = !problem.cooks.is_empty();
        let answer = solve(&problem, &limits).unwrap_or_else(|error| panic!("{name}: {error}"));
        let Outcome::Undecided(progress) = answer else {
            assert!(!beyond, "{name}: {answer:?}");
            continue;
        };
        if beyond {
            assert_eq!((progress.stopped_by, progress.work), (Some(StopReason::Beyond), 0), "{name}");
            assert!(matches!(why_not(&problem, &limits), Ok(Verdict::Undecided)), "{name}");
            let soon = how_soon(&problem, None, &limits).unwrap_or_else(|error| panic!("{name}: {error}"));
            assert!(matches!(soon, HowSoon::Undecided(_)), "{name}: {soon:?}");
        }
    }
}

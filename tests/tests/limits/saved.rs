//! Saved plans and logs that somebody has changed.

use std::fs;
use std::path::Path;

use rangewright::models::day::{Day, Entry, Event, fold};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::Crew;
use rangewright::models::{compile::compile, examples, read};
use rangewright::replan::replan;
use rangewright::{Error, Limits, Outcome, ask, solve};
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};
use serde_json::{Value, json};

/// A folder with the small supper, its kitchen, and a plan of it.
fn evening() -> (tempfile::TempDir, Value) {
    let home = tempfile::tempdir().expect("a folder");
    let supper = examples::ALL[1];
    fs::write(home.path().join("supper.menu.ron"), supper.menu).expect("a file");
    fs::write(home.path().join(supper.kitchen_name), supper.kitchen).expect("a file");
    let answer = command(home.path(), &["plan", "supper.menu.ron", "--work", "20000", "--format", "json"]);
    assert_eq!(answer.0, Exit::Planned, "{}", answer.1);
    let plan = serde_json::from_str(&answer.1).expect("JSON");
    (home, plan)
}

fn command(folder: &Path, args: &[&str]) -> (Exit, String) {
    let answer = rangewright(args, &World { folder: Some(folder), ..World::default() });
    (answer.exit, answer.out + &answer.err)
}

/// What each command that takes a plan says of one.
fn asked(folder: &Path) -> [(Exit, String); 4] {
    let menu = "supper.menu.ron";
    [
        command(folder, &["check", menu, "--plan", "plan.json"]),
        command(folder, &["odds", menu, "--plan", "plan.json", "--evenings", "50"]),
        command(folder, &["plan", menu, "--start", "plan.json", "--work", "2000"]),
        command(folder, &["replan", menu, "--plan", "plan.json", "--now", "18:00", "--work", "2000"]),
    ]
}

#[test]
fn a_plan_that_cannot_be_is_refused_wherever_one_is_read() {
    let (home, good) = evening();
    let roast = "/plan/steps/baked-celeriac~1roast";
    for (at, value, said) in [
        (format!("{roast}/mode"), json!(5), "mode 5"),
        (format!("{roast}/end"), json!(0), "ends"),
        (format!("{roast}/end"), json!(i64::MIN), "-9223372036854775808"),
        (format!("{roast}/start"), json!(1_000_000_000_000_i64), "1000000000000"),
        (format!("{roast}/start"), json!(i64::MAX), "9223372036854775807"),
        ("/plan/served/supper".to_owned(), json!(i64::MAX), "9223372036854775807"),
    ] {
        let mut bad = good.clone();
        *bad.pointer_mut(&at).expect("a field of the plan") = value;
        fs::write(home.path().join("plan.json"), bad.to_string()).expect("a file");
        for (exit, text) in asked(home.path()) {
            assert_eq!(exit, Exit::BadInput, "{at}: {text}");
            assert!(text.contains("plan.json") && text.contains(said), "{at}: {text}");
        }
    }
    // With a byte order mark the plan is as good as before.
    fs::write(home.path().join("plan.json"), format!("\u{feff}{good}")).expect("a file");
    for (exit, text) in asked(home.path()) {
        assert_eq!(exit, Exit::Planned, "{text}");
    }
}

#[test]
fn a_menu_that_was_changed_after_planning_is_noticed() {
    let (home, good) = evening();
    fs::write(home.path().join("plan.json"), good.to_string()).expect("a file");
    let changed = examples::ALL[1].menu.replace("180 C", "170 C");
    assert_ne!(changed, examples::ALL[1].menu);
    fs::write(home.path().join("supper.menu.ron"), changed).expect("a file");
    let [check, odds, start, replan] = asked(home.path());
    for (exit, text) in [check, odds, start] {
        assert_eq!(exit, Exit::Planned, "{text}");
        assert!(text.contains("has been changed since plan.json was made"), "{text}");
    }
    assert_eq!(replan.0, Exit::BadInput);
    assert!(replan.1.contains("changed since"), "{}", replan.1);
}

fn supper() -> (Problem, Plan) {
    let supper = examples::ALL[1];
    let feast = read::feast(supper.menu, supper.menu_name, |name| supper.kitchen_text(name)).expect("an example");
    let problem = compile(&feast).expect("an example").problem;
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    let Outcome::Planned(planned) = solve(&problem, &limits).expect("a sound problem") else { panic!("a plan") };
    (problem, planned.plan)
}

#[test]
fn the_library_refuses_strangers_by_type() {
    let (problem, plan) = supper();
    let crew = Crew::of(&problem);
    let limits = Limits { work: Some(2_000), ..Limits::default() };
    let day = fold(&problem, &plan, &[], 1_080).expect("nothing is logged");
    let asked = |problem: &Problem, plan: &Plan, day| replan(problem, plan, day, &crew, &limits);
    assert!(asked(&problem, &plan, &day).is_ok());
    let mut other = plan.clone();
    other.steps = [("tart/bake".to_owned(), plan.steps["baked-celeriac/roast"].clone())].into();
    assert!(matches!(asked(&problem, &other, &day), Err(Error::Plan(_))));
    other.steps.clear();
    assert!(matches!(asked(&problem, &other, &day), Err(Error::Plan(_))));
    let mut changed = problem.clone();
    changed.opening += 1;
    assert!(matches!(asked(&changed, &plan, &day), Err(Error::Changed)));
    let nonsense = Day { now: i64::MAX, ..fold(&problem, &plan, &[], 1_080).expect("nothing is logged") };
    assert!(matches!(asked(&problem, &plan, &nonsense), Err(Error::Day(_))));

    let unknown = |answer: Result<_, Error>| matches!(answer, Err(Error::Unknown { .. }));
    let share = |dishes: &[&str], place: &str| ask::can_share(&problem, dishes, place, &limits);
    assert!(unknown(share(&["baked-celeriac", "tart"], "oven").map(drop)));
    assert!(unknown(share(&["baked-celeriac", "lentils-with-leeks"], "range").map(drop)));
    assert!(matches!(share(&["baked-celeriac"], "oven"), Err(Error::Limit { field: "dishes", .. })));
    assert!(unknown(ask::why_this_way(&problem, &plan, "tart/bake", &limits).map(drop)));
}

#[test]
fn minutes_that_cannot_be_are_no_entries_of_a_log() {
    let (problem, plan) = supper();
    let step = || "baked-celeriac/roast".to_owned();
    for (at, event) in [
        (i64::MAX, Event::Finished { step: step() }),
        (i64::MIN, Event::Started { step: step(), mode: None }),
        (1_050, Event::Needs { step: step(), minutes: i64::MAX }),
        (1_050, Event::GuestsLate { minutes: i64::MIN, only: None, course: None }),
        (1_050, Event::OvenReads { place: "oven".to_owned(), degrees: i64::MAX }),
        (1_050, Event::Probe { step: step(), core: i64::MIN, target: None, from: None }),
    ] {
        let entry = Entry { at, event };
        let faults = fold(&problem, &plan, std::slice::from_ref(&entry), i64::MAX).expect_err("absurd");
        assert!(faults[0].to_string().contains("give "), "{entry:?}: {faults:?}");
    }
}

//! Spare hands in the last half hour: kept where they can be, refused with what can be had instead.

use rangewright::models::check::check;
use rangewright::models::compile::compile;
use rangewright::models::problem::{Problem, Shift};
use rangewright::models::schedule::{Crew, schedule_with};
use rangewright::models::{examples, read};
use rangewright::spare::{LAST, Spared, keep};
use rangewright::{Limits, Outcome, solve};
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};
use rangewright_tests::evening::{counter, evening, oven, step};

fn limits() -> Limits<'static> {
    Limits { work: Some(20_000), ..Limits::default() }
}

/// The longest piece of the last half hour that a cook has free, minute by minute.
fn longest_free(problem: &Problem, crew: &Crew, plan: &rangewright::models::plan::Plan) -> i64 {
    let day = schedule_with(problem, plan, crew);
    let mut least = LAST;
    for serving in &day.servings {
        for cook in 0..crew.cooks.len() {
            let busy = |minute: i64| {
                let own = day.jobs.iter().filter(|job| job.what.busy() && job.cooks.contains(&cook));
                own.into_iter().any(|job| (job.at..job.until).contains(&minute))
            };
            let (mut longest, mut run) = (0, 0);
            for minute in serving.at - LAST..serving.at {
                run = if busy(minute) { 0 } else { run + 1 };
                longest = longest.max(run);
            }
            least = least.min(longest);
        }
    }
    least
}

/// Two dishes of 20 minutes' work each, best done just before they are served, by so many cooks.
fn busy(hands: i64) -> Problem {
    let job = || vec![rangewright::models::problem::Mode { hands: 1, ..counter(20, 20) }];
    let mut problem = evening(oven(), 60, vec![step("a", "fry", job()), step("b", "fry", job())], Vec::new());
    problem.shifts = vec![Shift { start: 600, end: 1_200, hands }];
    problem
}

#[test]
fn what_one_cook_must_do_earlier_is_what_it_costs() {
    let problem = busy(1);
    let crew = Crew::of(&problem);
    // Without: one dish ends at the hour, the other 20 minutes before. A dish of 20 minutes does not fit behind 15 free ones
    // in half an hour, so that these come last, and both dishes wait for them.
    let Spared::Kept(kept) = keep(&problem, &crew, 50, &limits()).expect("no faults") else { panic!("it can be done") };
    assert_eq!(
        check(&problem, &kept.planned.plan),
        Ok(rangewright::models::check::cost(&problem, &kept.planned.plan).expect("a plan"))
    );
    assert!(longest_free(&problem, &crew, &kept.planned.plan) >= 15);
    assert_eq!((kept.minutes, kept.waiting), (15, 30));
}

#[test]
fn two_cooks_each_have_their_share() {
    let problem = busy(2);
    let crew = Crew::of(&problem);
    let Spared::Kept(kept) = keep(&problem, &crew, 50, &limits()).expect("no faults") else { panic!("it can be done") };
    assert!(longest_free(&problem, &crew, &kept.planned.plan) >= 15);
}

#[test]
fn the_supper_keeps_a_quarter_of_its_cook_free() {
    let supper = examples::ALL[1];
    let feast = read::feast(supper.menu, supper.menu_name, |name| supper.kitchen_text(name)).expect("no faults");
    let compiled = compile(&feast).expect("no faults");
    let crew = Crew::named(&compiled.labels);
    let Outcome::Planned(without) = solve(&compiled.problem, &limits()).expect("no faults") else { panic!("no plan") };
    match keep(&compiled.problem, &crew, 25, &limits()).expect("no faults") {
        Spared::Kept(kept) => {
            check(&compiled.problem, &kept.planned.plan).expect("a plan of the menu itself");
            assert!(longest_free(&compiled.problem, &crew, &kept.planned.plan) >= 8);
            assert!(kept.planned.plan.lateness <= without.plan.lateness);
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_command_says_what_is_kept_and_what_cannot_be() {
    let porch = ["plan", "models/examples/supper.menu.ron", "--work", "20000", "--spare-hands"];
    let root = std::path::PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..");
    let ask = |share: &str| {
        let args: Vec<&str> = porch.iter().copied().chain([share]).collect();
        rangewright(&args, &World { folder: Some(&root), ..World::default() })
    };
    let some = ask("25%");
    assert_eq!(some.exit, Exit::Planned, "{}", some.err);
    assert!(some.out.contains("Each cook has 8 min free in one piece"), "{}", some.out);
    assert!(some.out.contains("HANDS IN THE LAST HOUR"), "{}", some.out);
    let all = ask("100");
    assert_eq!(all.exit, Exit::Impossible, "{}", all.out);
    assert!(all.out.contains("No: 100% of each cook"), "{}", all.out);
    assert_eq!(ask("120%").exit, Exit::BadInput);
    // The same as data; in a calendar there is no room for a "no".
    let data = |more: &[&str]| {
        let args = [&porch[..], more].concat();
        rangewright(&args, &World { folder: Some(&root), ..World::default() })
    };
    let read = |answer: &str| serde_json::from_str::<serde_json::Value>(answer).expect("JSON");
    let kept = read(&data(&["25%", "--format", "json"]).out);
    assert_eq!((&kept["outcome"], &kept["spare_hands"]["minutes"]), (&"planned".into(), &8.into()));
    let refused = data(&["100%", "--format", "json"]);
    assert_eq!((refused.exit, refused.err.as_str()), (Exit::Impossible, ""));
    let refused = read(&refused.out);
    assert_eq!((&refused["outcome"], &refused["spare_hands"]["asked"]), (&"no".into(), &100.into()));
    let most = refused["spare_hands"]["minutes"].as_i64().expect("minutes");
    assert!((8..LAST).contains(&most), "{refused}");
    let calendar = data(&["100%", "--format", "ical"]);
    assert!(calendar.out.is_empty() && calendar.err.contains("No: 100% of each cook"), "{}", calendar.out);
}

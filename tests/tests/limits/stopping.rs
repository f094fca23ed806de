//! A search that is told to stop stops, in every room of the house. Questions are counted, never seconds: what takes how
//! long is measured by the runner `latency` of the benches.

use std::sync::atomic::{AtomicUsize, Ordering};

use rangewright::ask::{Difference, Hindrance, HowSoon, can_share, how_soon, why_this_way};
use rangewright::change::{Found, remedies, usual_changes, what_would_help};
use rangewright::models::compile::compile;
use rangewright::models::problem::Problem;
use rangewright::models::read;
use rangewright::why::{Explanation, Fact, Verdict, why_not};
use rangewright::{Limits, Outcome, StopReason, solve};
use rangewright_tests::data;

/// So many ovens and dishes, each of these with work before and after an hour of roasting.
fn crowd(ovens: usize, dishes: usize, slip: &str) -> Problem {
    let oven = |number| format!(r#"Oven(name: "Oven {number}", inside: "45 x 38 x 33 cm")"#);
    let dish = |number: usize| {
        let at = [160, 180, 200, 220][number % 4];
        format!(
            r#"Dish("Dish {number}", [Prep(do: "Trim", takes: "10 min"),
                Roast(at: "{at} C", takes: "60 min", pan: "30 x 25 x 14 cm"), Carve("Cut", "4 min")])"#
        )
    };
    let ovens: Vec<String> = (1..=ovens).map(oven).collect();
    let dishes: Vec<String> = (1..=dishes).map(dish).collect();
    let text = format!(
        r#"Menu(name: "Crowd", kitchen: Kitchen(name: "Hall", places: [{}],
            cooks: [Cook(name: "Ines", shifts: ["9:00 to 20:00"]), Cook(name: "Tam", shifts: ["9:00 to 20:00"])]),
            guests: 40, date: "2026-11-14", zone: "Europe/London",
            courses: [Course(name: "supper", serve: "19:00", slip: "{slip}")], dishes: [{}])"#,
        ovens.join(", "),
        dishes.join(", ")
    );
    let feast = read::feast(&text, "crowd", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
    compile(&feast).unwrap_or_else(|faults| panic!("{faults}")).problem
}

fn extremes() -> Vec<(&'static str, Problem)> {
    vec![
        ("weeks of slip", data::json("limits/weeks-of-slip.json")),
        ("weeks ahead", data::json("limits/weeks-soonest.json")),
        ("four ovens, thirty dishes", crowd(4, 30, "20 min")),
        ("one oven, twelve dishes", crowd(1, 12, "0 min")),
    ]
}

/// Asks with a stop that is said from a question on, again and again; counts the questions that come after it.
fn after_stop(name: &str, problem: &Problem, ask: impl Fn(&Problem, &Limits<'_>)) {
    for said_at in [0, 1, 7, 40] {
        let asked = AtomicUsize::new(0);
        let stop = || asked.fetch_add(1, Ordering::Relaxed) >= said_at;
        ask(problem, &Limits { stop: Some(&stop), work: Some(20_000), ..Limits::default() });
        let after = asked.load(Ordering::Relaxed).saturating_sub(said_at);
        assert!(after <= 400, "{name}: asked {after} times more after stop was said at {said_at}");
    }
}

/// Under so little work each of these took up to a minute once: the time went where no work was counted.
#[test]
fn little_work_is_little_work_however_long_the_evening() {
    for (name, problem) in extremes() {
        let limits = Limits { work: Some(40), ..Limits::default() };
        match solve(&problem, &limits) {
            Ok(Outcome::Planned(planned)) => assert!(planned.work <= 40 + 2_000, "{name}: {}", planned.work),
            Ok(_) => {}
            Err(error) => panic!("{name}: {error}"),
        }
        how_soon(&problem, None, &limits).unwrap_or_else(|error| panic!("{name}: {error}"));
    }
}

#[test]
fn planning_stops_and_says_why() {
    for (name, problem) in extremes() {
        after_stop(name, &problem, |problem, limits| match solve(problem, limits).expect("an answer") {
            Outcome::Planned(planned) => {
                assert!(matches!(planned.stopped_by, StopReason::Stop | StopReason::Proof), "{name}");
            }
            Outcome::Undecided(progress) => assert_eq!(progress.stopped_by, Some(StopReason::Stop), "{name}"),
            Outcome::Impossible(_) => {}
        });
        after_stop(name, &problem, |problem, limits| {
            if let HowSoon::At(soonest) = how_soon(problem, None, limits).expect("an answer") {
                assert!(!soonest.proved || soonest.plan.bounds[0] == soonest.plan.lateness);
            }
        });
    }
}

/// What was stopped before it was examined is not "proved" and not "complete".
#[test]
fn sharing_that_was_stopped_proves_nothing() {
    let problem = crowd(1, 3, "20 min");
    let dishes: Vec<&str> = problem.dishes.iter().take(2).map(|dish| dish.id.as_str()).collect();
    let stop = || true;
    let limits = Limits { stop: Some(&stop), ..Limits::default() };
    let sharing = can_share(&problem, &dishes, "oven-1", &limits).expect("an answer");
    assert!(sharing.ways.is_empty() && !sharing.complete);
    assert!(sharing.not.iter().all(|not| not.because == Hindrance::Undecided), "{sharing:?}");
    after_stop("sharing", &problem, |problem, limits| {
        can_share(problem, &dishes, "oven-1", limits).expect("an answer");
    });
}

#[test]
fn explanations_and_changes_stop() {
    let problem = crowd(1, 12, "0 min");
    let facts = problem.dishes.iter().map(|dish| Fact::Dish { dish: dish.id.clone() }).collect();
    let why = Explanation { facts, smallest: false };
    after_stop("why not", &problem, |problem, limits| {
        if let Verdict::Because(because) = why_not(problem, limits).expect("an answer") {
            assert!(!because.smallest);
        }
    });
    after_stop("remedies", &problem, |problem, limits| {
        remedies(problem, &why, limits).expect("an answer");
    });
    let stop = || true;
    let limits = Limits { stop: Some(&stop), ..Limits::default() };
    assert_eq!(remedies(&problem, &why, &limits).expect("an answer"), []);
    let changes = usual_changes(&problem);
    let help = what_would_help(&problem, &changes, &limits).expect("an answer");
    assert_eq!(help.before, Found::Undecided);
    assert!(help.benefits.iter().all(|benefit| benefit.after == Found::Undecided));
}

#[test]
fn the_alternatives_of_a_step_stop() {
    let problem = crowd(2, 3, "20 min");
    let limits = Limits { work: Some(3_000), ..Limits::default() };
    let Ok(Outcome::Planned(planned)) = solve(&problem, &limits) else { panic!("a plan") };
    let step = problem.steps.iter().find(|step| step.id.contains("roast")).expect("a roast").id.clone();
    let stop = || true;
    let limits = Limits { stop: Some(&stop), ..Limits::default() };
    let ways = why_this_way(&problem, &planned.plan, &step, &limits).expect("an answer");
    assert!(
        ways.iter().all(|way| matches!(way.difference, Difference::Undecided | Difference::Impossible)),
        "{ways:?}"
    );
}

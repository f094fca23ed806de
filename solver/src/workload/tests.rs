//! Bounds against values known by hand, and against what a search by other means proves.

use rangewright_models::problem::Problem;
use serde_json::json;

use super::*;
use crate::learn::Learner;
use crate::limits::Limits;
use crate::local::evening;

/// A race: each job is a list of steps, each of which can be done in any of these pairs of a burner and its minutes.
fn race(burners: usize, jobs: &[&[&[(usize, i64)]]]) -> Problem {
    let free = json!({"rate": 0, "soft": null, "rate_after": 0});
    let (mut steps, mut links, mut sinks) = (Vec::new(), Vec::new(), Vec::new());
    for (job, operations) in jobs.iter().enumerate() {
        for (index, ways) in operations.iter().enumerate() {
            let mode = |&(burner, minutes): &(usize, i64)| json!({"place": format!("b{burner}"), "min": minutes, "max": minutes, "level": [1, 5], "diameter": 200});
            let modes: Vec<_> = ways.iter().map(mode).collect();
            steps.push(json!({"id": format!("{job}.{index}"), "dish": "all", "kind": "job", "earliest": null,
                "latest": null, "wait": free, "modes": modes}));
            if index > 0 {
                links.push(json!({"from": format!("{job}.{}", index - 1), "to": format!("{job}.{index}"), "min": 0,
                    "max": null, "stay": false, "wait": free}));
            }
        }
        sinks.push(json!({"step": format!("{job}.{}", operations.len() - 1), "wait": free}));
    }
    let hob = |index: usize| {
        json!({"id": format!("b{index}"), "kind": "hob", "count": 1, "scale": [1, 9], "min_diameter": 100,
            "max_diameter": 300})
    };
    let problem = json!({
        "name": "race", "opening": 0, "shifts": [], "pools": {},
        "places": (0..burners).map(hob).collect::<Vec<_>>(), "dishes": [{"id": "all", "name": "all"}],
        "courses": [{"id": "all", "serve": 0, "weight": 1, "max_slip": 500, "together": 500, "after": null,
            "sinks": sinks}],
        "steps": steps, "links": links,
    });
    serde_json::from_value(problem).expect("a race")
}

/// The bound on lateness.
fn bounded(problem: &Problem) -> i64 {
    let instance = Instance::new(problem).expect("some plan");
    let limits = Limits::default();
    let mut board = Board::new(&instance, &limits);
    bound(&mut board);
    board.bounds()[0]
}

#[test]
fn one_place_is_bounded_by_what_must_be_done_there_and_before_and_after() {
    // Burner 0 is not wanted before minute 3, and after each of its steps 2 more minutes follow.
    let job: &[&[(usize, i64)]] = &[&[(1, 3)], &[(0, 10)], &[(2, 2)]];
    let quick: &[&[(usize, i64)]] = &[&[(1, 4)], &[(0, 5)], &[(2, 6)]];
    assert_eq!(bounded(&race(3, &[job, quick])), 3 + 15 + 2);
    // A short step that is free at once and followed by nothing does not spoil it.
    assert_eq!(bounded(&race(3, &[job, quick, &[&[(0, 1)]]])), 3 + 15 + 2);
}

#[test]
fn a_step_with_a_choice_is_no_work_in_either_place() {
    let either: &[&[(usize, i64)]] = &[&[(0, 10), (1, 10)]];
    assert_eq!(bounded(&race(2, &[either; 5])), 10);
    let here: &[&[(usize, i64)]] = &[&[(0, 7), (0, 9)]];
    assert_eq!(bounded(&race(2, &[either, here, here])), 14, "whatever the mode, it takes 7 minutes here");
}

#[test]
fn pots_that_fill_an_oven_follow_each_other() {
    let mut problem = evening(1, 1);
    problem.steps.truncate(1);
    problem.links.clear();
    let mut pot = problem.steps[0].clone();
    let mode = json!({"place": "oven", "min": 20, "max": 20, "t": [100, 130], "heat": "fan", "pan": [300, 300, 80],
        "weight": 900, "shut": 0});
    pot.modes = vec![serde_json::from_value(mode).expect("a mode")];
    let named = |id: &str| rangewright_models::problem::Step { id: id.to_owned(), ..pot.clone() };
    problem.steps = vec![named("one"), named("two"), named("three")];
    problem.courses[0].sinks = problem
        .steps
        .iter()
        .map(|step| {
            serde_json::from_value(json!({"step": step.id, "wait": {"rate": 0, "soft": null, "rate_after": 0}}))
                .expect("a sink")
        })
        .collect();
    problem.courses[0].max_slip = 500;
    let course = &problem.courses[0];
    // 3 minutes to heat to 100 degrees from 20 at 30 degrees a minute; then three pots, one after the other.
    assert_eq!(bounded(&problem), course.weight * (63 - course.serve));
}

#[test]
fn no_bound_exceeds_what_the_learner_proves() {
    let mut raised = 0;
    for seed in 0..150 {
        let mut problem = evening(seed, 4);
        // As soon as can be: lateness is what decides.
        problem
            .courses
            .iter_mut()
            .for_each(|course| (course.serve, course.max_slip) = (0, course.serve + course.max_slip));
        let Ok(instance) = Instance::new(&problem) else { continue };
        let limits = Limits::default();
        let mut board = Board::new(&instance, &limits);
        Learner::new(&instance).run(&mut board, 0);
        let Some((cost, _)) = board.incumbent() else { continue };
        let bound = bounded(&problem);
        assert!(bound <= cost[0], "{seed}: {bound}, best {}", cost[0]);
        raised += i32::from(bound > instance.windows.serve.iter().map(|span| i64::from(span.lo)).sum());
    }
    assert!(raised > 20, "only {raised} bounds say more than links do");
}

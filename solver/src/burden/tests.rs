//! Bounds against values known by hand, and against what a search by other means proves.

use rangewright_models::problem::Problem;
use serde_json::json;

use super::*;
use crate::learn::Learner;
use crate::limits::Limits;
use crate::local::evening;

/// A race: each job is a list of steps, each of which can be done in any of these pairs of a burner and its minutes.
pub(crate) fn race(burners: usize, jobs: &[&[&[(usize, i64)]]]) -> Problem {
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

/// The bounds on lateness by each stock alone, and by all together.
fn bounds(problem: &Problem) -> [i64; 2] {
    let instance = Instance::new(problem).expect("some plan");
    let limits = Limits::default();
    let mut board = Board::new(&instance, &limits);
    let mut burden = Burden::new(&instance);
    [0, 1].map(|_| {
        burden.run(&mut board);
        board.bounds()[0]
    })
}

#[test]
fn one_place_is_bounded_by_what_must_be_done_there_and_before_and_after() {
    // Burner 0 is not wanted before minute 3, and after each of its steps 2 more minutes follow.
    let job: &[&[(usize, i64)]] = &[&[(1, 3)], &[(0, 10)], &[(2, 2)]];
    let quick: &[&[(usize, i64)]] = &[&[(1, 4)], &[(0, 5)], &[(2, 6)]];
    assert_eq!(bounds(&race(3, &[job, quick])), [3 + 15 + 2; 2]);
    // A short step that is free at once and followed by nothing does not spoil it.
    assert_eq!(bounds(&race(3, &[job, quick, &[&[(0, 1)]]])), [3 + 15 + 2; 2]);
}

#[test]
fn a_choice_of_places_is_bounded_by_all_of_them_together() {
    // Five steps of 10 minutes, each on either of two burners: three follow each other on one of them.
    let either: &[&[(usize, i64)]] = &[&[(0, 10), (1, 10)]];
    assert_eq!(bounds(&race(2, &[either; 5])), [10, 25]);
    // The second burner takes twice as long: 20 minutes of weight 2 in one, or 40 of weight 1 in the other, for each.
    let slower: &[&[(usize, i64)]] = &[&[(0, 20), (1, 40)]];
    assert_eq!(bounds(&race(2, &[slower; 6])), [20, 80]);
    // A burner that only one step could use takes no weight from the two that all others need.
    let alone: &[&[(usize, i64)]] = &[&[(2, 7)]];
    assert_eq!(bounds(&race(3, &[either, either, either, either, alone]))[1], 20);
}

#[test]
fn pots_that_fill_an_oven_are_a_burden_on_it() {
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
    assert_eq!(bounds(&problem)[0], course.weight * (63 - course.serve));
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
        let Some((cost, _)) = board.best() else { continue };
        let [alone, together] = bounds(&problem);
        assert!(alone <= together && together <= cost[0], "{seed}: {alone} and {together}, best {}", cost[0]);
        raised += i32::from(alone > instance.windows.serve.iter().map(|span| i64::from(span.lo)).sum());
    }
    assert!(raised > 20, "only {raised} bounds say more than links do");
}

//! Moves keep what they promise, plans keep every rule, and small shops come out as the learner proves them.

use rangewright_models::problem::Problem;
use serde_json::json;

use super::*;
use crate::burden::race;
use crate::learn::Learner;
use crate::limits::Limits;

/// A random race of chains over burners, with one or two ways for each step.
fn shop(seed: u64, jobs: usize, burners: usize) -> Problem {
    let mut random = Random::new(seed);
    let mut way = |burner: usize| ((burner + random.below(2)) % burners, 1 + random.below(9) as i64);
    let operation = |first: (usize, i64), second: (usize, i64)| {
        if first.0 == second.0 { vec![first] } else { vec![first, second] }
    };
    let jobs: Vec<Vec<Vec<(usize, i64)>>> = (0..jobs)
        .map(|job| (0..burners).map(|index| operation(way(job + index), way(job * index))).collect())
        .collect();
    let jobs: Vec<Vec<&[(usize, i64)]>> = jobs.iter().map(|job| job.iter().map(Vec::as_slice).collect()).collect();
    race(burners, &jobs.iter().map(Vec::as_slice).collect::<Vec<_>>())
}

/// A plan that does one step after the other.
fn one_by_one(instance: &Instance<'_>) -> Assignment {
    let mut minute = 0;
    let mut steps = vec![Choice { mode: 0, start: 0, end: 0 }; instance.steps.len()];
    for &step in &instance.order {
        let start = minute;
        minute += instance.steps[step].modes[0].min;
        steps[step] = Choice { mode: 0, start, end: minute };
    }
    Assignment { steps, served: vec![minute] }
}

#[test]
fn small_shops_come_out_as_the_learner_proves_them() {
    for seed in 0..40 {
        let problem = shop(seed, 4, 3);
        let instance = Instance::new(&problem).expect("some plan");
        let limits = Limits::default();
        let mut proved = Board::new(&instance, &limits);
        Learner::new(&instance).run(&mut proved, 0);
        let mut board = Board::new(&instance, &limits);
        board.offer(one_by_one(&instance));
        let mut critical = Critical::new(&instance).expect("a shop");
        // Each move is held against the end that was told for it; see `step`.
        board.start_slice(300);
        critical.run(&mut board);
        let lateness = |board: &Board<'_, '_, '_>| board.best().map(|(cost, _)| cost[0]);
        assert_eq!(lateness(&board), lateness(&proved), "{seed}");
        assert!(board.best().is_some_and(|(_, plan)| valid(&instance, plan)), "{seed}");
    }
}

#[test]
fn every_place_is_worth_what_is_told_of_it() {
    let mut looked_at = 0;
    for seed in 0..30 {
        let problem = shop(seed, 5, 3);
        let instance = Instance::new(&problem).expect("some plan");
        let shop = Shop::new(&instance).expect("a shop");
        let plan = one_by_one(&instance);
        let starts: Vec<Time> = plan.steps.iter().map(|choice| choice.start).collect();
        let mut order = Order::new(&shop, vec![0; starts.len()], &starts).expect("no circle");
        let mut random = Random::new(seed);
        for _ in 0..10 {
            let mut moves: Vec<Move> = Vec::new();
            let mut without = Without::default();
            (0..starts.len()).for_each(|job| without.moves(&shop, &order, job, |found| moves.push(found)));
            for found in &moves {
                let mut other = order.clone();
                assert!(other.put(&shop, found.job, found.way, found.place), "{found:?} closes a circle");
                assert_eq!(other.end, found.end, "{found:?}");
                let other = other.heads.iter().zip(&other.minutes).map(|(head, minutes)| head + minutes).max();
                assert_eq!(other, Some(found.end));
                looked_at += 1;
            }
            let found = moves[random.below(moves.len())];
            order.put(&shop, found.job, found.way, found.place);
        }
    }
    assert!(looked_at > 1000, "only {looked_at} places");
}

#[test]
fn what_is_no_shop_is_left_alone() {
    let problem = shop(1, 3, 2);
    let is_shop = |problem: &Problem| Critical::new(&Instance::new(problem).expect("some plan")).is_some();
    assert!(is_shop(&problem));
    let mut two = problem.clone();
    let rangewright_models::problem::Place::Hob(hob) = &mut two.places[0] else { panic!("a hob") };
    hob.count = 2;
    assert!(!is_shop(&two), "two burners can be shared");
    let mut overlap = problem.clone();
    overlap.links[0].min = -1;
    assert!(!is_shop(&overlap), "a gap below zero");
    let mut courses = problem.clone();
    let course = serde_json::from_value(json!({"id": "more", "serve": 9, "weight": 1, "max_slip": 9, "together": 9,
        "sinks": [], "after": null}));
    courses.courses.push(course.expect("a course"));
    assert!(!is_shop(&courses), "two courses");
    let mut hands = problem;
    hands.shifts.push(serde_json::from_value(json!({"start": 0, "end": 9000, "hands": 1})).expect("a shift"));
    hands.steps.iter_mut().flat_map(|step| &mut step.modes).for_each(|mode| mode.hands = 1);
    assert!(!is_shop(&hands), "hands and a burner at once");
}

//! Rows hold for every plan, and bounds never exceed what is known to be best.

use rangewright_models::problem::Problem;
use serde::Deserialize;
use serde::de::DeserializeOwned;

use super::*;
use crate::assignment::{Assignment, Choice};
use crate::limits::Limits;
use crate::local::Random;
use separate::{Separator, Share};

/// As much of a reference plan as is needed here.
#[derive(Deserialize)]
struct Reference {
    steps: std::collections::BTreeMap<String, rangewright_models::plan::PlannedStep>,
}

fn read<T: DeserializeOwned>(path: &str) -> T {
    let path = format!("{}/../tests/data/kitchens/{path}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the kitchens are part of the repository");
    serde_json::from_str(&text).expect("a kitchen")
}

/// A reference plan as an assignment.
fn reference(instance: &Instance<'_>, name: &str) -> Assignment {
    let plan: Reference = read(&format!("plans/{name}.json"));
    let choices = instance.problem.steps.iter().zip(&instance.steps).map(|(named, step)| {
        let planned = &plan.steps[&named.id];
        let mode = step.modes.iter().position(|mode| mode.source == planned.mode).expect("a legal mode");
        Choice { mode, start: planned.start as Time, end: planned.end as Time }
    });
    let mut assignment = Assignment { steps: choices.collect(), served: Vec::new() };
    assignment.serve_soonest(instance);
    assignment
}

/// Random shares of choices near those of a plan, in any of the modes.
fn shares(instance: &Instance<'_>, plan: &Assignment, random: &mut Random) -> Vec<Share> {
    let mut shares = Vec::new();
    for (step, (source, choice)) in instance.steps.iter().zip(&plan.steps).enumerate() {
        let parts = 1 + random.below(3);
        for _ in 0..parts {
            let mode = random.below(source.modes.len());
            let start = choice.start + random.below(40) as Time - 20;
            let longer = random.below((source.modes[mode].max - source.modes[mode].min).clamp(0, 30) as usize + 1);
            let end = start + source.modes[mode].min + longer as Time;
            shares.push(Share { step, choice: Choice { mode, start, end }, share: 1.0 / parts as f64 });
        }
    }
    shares
}

#[test]
fn every_row_holds_for_plans() {
    let mut random = Random::new(1);
    let mut rows_seen = 0;
    for name in ["small-1", "small-5", "hard-2", "hard-5", "dinner-1", "dinner-4", "crowded-1", "crowded-6", "feast-2"]
    {
        let problem: Problem = read(&format!("instances/{name}.json"));
        let instance = Instance::new(&problem).unwrap_or_else(|reasons| panic!("{reasons:?}"));
        let plan = reference(&instance, name);
        let ways = Ways::new(&instance);
        for _ in 0..60 {
            let shares = shares(&instance, &plan, &mut random);
            let mut rows = Separator { instance: &instance, ways: &ways }.find(&shares);
            rows.extend(lift::find(&instance, &ways, &shares));
            for row in rows {
                rows_seen += 1;
                let of_step = |(step, &choice): (usize, &Choice)| {
                    row.of_way(ways.way(step, choice.mode)).iter().map(|term| term.count(choice)).sum::<i64>()
                };
                let used: i64 = plan.steps.iter().enumerate().map(of_step).sum();
                assert!(used <= row.rhs, "{name}: {used} of {} in {row:?}", row.rhs);
            }
        }
    }
    assert!(rows_seen > 5_000, "only {rows_seen} rows");
}

#[test]
fn bounds_stay_below_and_proofs_meet_the_optimum() {
    for (name, optimum) in [("small-1", 106), ("small-4", 278), ("hard-3", 616), ("hard-6", 501), ("dinner-7", 457)] {
        let problem: Problem = read(&format!("instances/{name}.json"));
        let instance = Instance::new(&problem).unwrap_or_else(|reasons| panic!("{reasons:?}"));
        let limits = Limits { work: Some(300_000), ..Limits::default() };
        let mut board = Board::new(&instance, &limits);
        board.offer(reference(&instance, name));
        board.raise(0, 0);
        Pricer::new(&instance).expect("chains").run(&mut board);
        assert!(board.bounds()[1] <= optimum);
        assert!(board.proved(1), "{name}: {:?}", board.bounds());
    }
}

/// Prices after this much work, and what they say of the plan: the sum over all components of the greatest reduced_cost of an event.
fn regret_of_plan(instance: &Instance<'_>, plan: &Assignment, work: u64) -> Option<(ReducedCosts, i64)> {
    let limits = Limits { work: Some(work), ..Limits::default() };
    let mut board = Board::new(instance, &limits);
    board.offer(plan.clone());
    board.raise(0, 0);
    let mut pricer = Pricer::new(instance).expect("chains");
    pricer.run(&mut board);
    let reduced_costs = pricer.reduced_costs()?.pop()?;
    let of_step = |&step: &usize| {
        let choice = plan.steps[step];
        let reduced_cost = reduced_costs.of[step][choice.mode].as_ref().expect("a way that a plan takes");
        reduced_cost.start.get(choice.start).max(reduced_cost.end.get(choice.end))
    };
    let sum = reduced_costs.components.iter().map(|component| component.iter().map(of_step).max().unwrap_or(0)).sum();
    Some((reduced_costs, sum))
}

#[test]
fn no_plan_has_more_regret_than_it_waits() {
    let mut closest = f64::INFINITY;
    for name in
        ["small-1", "small-6", "hard-1", "dinner-1", "dinner-4", "dinner-7", "crowded-1", "crowded-6", "feast-2"]
    {
        let problem: Problem = read(&format!("instances/{name}.json"));
        let instance = Instance::new(&problem).unwrap_or_else(|reasons| panic!("{reasons:?}"));
        let plan = reference(&instance, name);
        let waiting = plan.waiting(&instance);
        for work in [1_000, 10_000, 50_000] {
            let Some((reduced_costs, sum)) = regret_of_plan(&instance, &plan, work) else { continue };
            assert!(sum <= reduced_costs.spare(waiting), "{name}: {sum} of {}", reduced_costs.spare(waiting));
            assert!(reduced_costs.waiting(sum) <= waiting && reduced_costs.to_reach(reduced_costs.waiting(sum)) <= sum);
            let windows = frames(&instance, std::slice::from_ref(&reduced_costs), waiting);
            for (choice, modes) in plan.steps.iter().zip(&windows) {
                let frame = modes[choice.mode].expect("open");
                assert!(frame.start.lo <= choice.start && choice.start <= frame.start.hi);
                assert!(frame.end.lo <= choice.end && choice.end <= frame.end.hi);
            }
            closest = closest.min(1.0 - sum as f64 / reduced_costs.spare(waiting).max(1) as f64);
        }
    }
    // ReducedCosts that were all nothing would pass as well.
    assert!(closest < 0.5, "no plan has half the reduced_cost it may have: {closest}");
}

//! Handing a plan over: a banquet of 24 dishes, with its saved plan, in every format.

use std::hint::black_box;
use std::time::SystemTime;

use criterion::{Criterion, criterion_group, criterion_main};
use jiff::{civil::date, tz::TimeZone};
use rangewright::Planner;
use rangewright::models::feast::Calendar;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;

fn sheets(criterion: &mut Criterion) {
    let problem: Problem = serde_json::from_str(include_str!("../../tests/data/kitchens/instances/banquet-1.json"))
        .expect("test data of our own form");
    let plan: Plan = serde_json::from_str(include_str!("../../tests/data/kitchens/plans/banquet-1.json"))
        .expect("test data of our own form");
    let calendar = Calendar::new(date(2026, 6, 13), TimeZone::UTC, 0).expect("that day is in the calendar");
    let planner = Planner::of_problem(problem, Some(calendar)).expect("test data has no faults");
    let banquet = planner.with(plan).expect("the saved plan keeps the rules");
    let files = rangewright_cli::every_form(&banquet, SystemTime::UNIX_EPOCH);
    assert_eq!(files.len(), 7, "every format shows a dated plan");
    criterion.bench_function("a banquet in every format", |bencher| {
        bencher.iter(|| rangewright_cli::every_form(black_box(&banquet), SystemTime::UNIX_EPOCH));
    });
}

criterion_group!(benches, sheets);
criterion_main!(benches);

//! Handing a plan over: a banquet of 24 dishes, with its saved plan, in every format.

use std::hint::black_box;
use std::time::SystemTime;

use criterion::{Criterion, criterion_group, criterion_main};
use jiff::{civil::date, tz::TimeZone};
use rangewright::models::feast::Calendar;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::{Planned, StopReason};

fn sheets(criterion: &mut Criterion) {
    let problem: Problem = serde_json::from_str(include_str!("../../tests/data/kitchens/instances/banquet-1.json"))
        .expect("test data of our own form");
    let plan: Plan = serde_json::from_str(include_str!("../../tests/data/kitchens/plans/banquet-1.json"))
        .expect("test data of our own form");
    let planned = Planned { plan, stopped_by: StopReason::Work, work: 0 };
    let calendar = Calendar::new(date(2026, 6, 13), TimeZone::UTC, 0).expect("that day is in the calendar");
    let labels = rangewright_cli::labels(&problem, calendar);
    let files = rangewright_cli::every_form(&problem, labels.clone(), &planned, SystemTime::UNIX_EPOCH);
    assert_eq!(files.len(), 7, "every format shows a dated plan");
    criterion.bench_function("a banquet in every format", |bencher| {
        bencher.iter(|| {
            rangewright_cli::every_form(black_box(&problem), labels.clone(), &planned, SystemTime::UNIX_EPOCH)
        });
    });
}

criterion_group!(benches, sheets);
criterion_main!(benches);

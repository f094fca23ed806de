//! Reading, compiling and planning the demo, checking its plan, and proving a few small problems.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use rangewright::models::check::check;
use rangewright::models::compile::compile;
use rangewright::models::feast::Feast;
use rangewright::models::problem::Problem;
use rangewright::models::{examples, read};
use rangewright::{Limits, Outcome};
use rangewright_benches::random;

/// Enough for a good plan of the demo, not for a proof: the same work each time.
const WORK: u64 = 3_000;

fn read_demo() -> Feast {
    let demo = examples::demo();
    read::feast(demo.menu, demo.menu_name, |name| demo.kitchen_text(name)).expect("the demo has no faults")
}

fn solve(problem: &Problem, work: Option<u64>) -> Outcome {
    rangewright::solve(problem, &Limits { work, ..Limits::default() }).expect("the problem makes sense")
}

fn demo(criterion: &mut Criterion) {
    let feast = read_demo();
    let problem = compile(&feast).expect("the demo has no faults").problem;
    let mut group = criterion.benchmark_group("demo");
    group.bench_function("read", |bencher| bencher.iter(read_demo));
    group.bench_function("compile", |bencher| bencher.iter(|| compile(black_box(&feast))));
    group.sample_size(10);
    group.bench_function("plan", |bencher| bencher.iter(|| solve(black_box(&problem), Some(WORK))));
    if let Outcome::Planned(planned) = solve(&problem, Some(WORK)) {
        group.bench_function("check", |bencher| bencher.iter(|| check(black_box(&problem), &planned.plan)));
    }
    group.finish();
}

fn proofs(criterion: &mut Criterion) {
    let published = [
        ("ft06", include_str!("../../tests/data/published/ft06.json")),
        ("j301_1", include_str!("../../tests/data/published/j301_1.json")),
        ("sm_j10_psp2", include_str!("../../tests/data/published/sm_j10_psp2.json")),
    ];
    let mut group = criterion.benchmark_group("proofs");
    group.sample_size(20);
    for (name, json) in published {
        let problem = serde_json::from_str(json).expect("test data of our own form");
        group.bench_function(name, |bencher| bencher.iter(|| solve(black_box(&problem), None)));
    }
    let evenings: Vec<Problem> = (0..20).map(|number| random::problem(number, None)).collect();
    group.bench_function("20 random evenings", |bencher| {
        bencher.iter(|| evenings.iter().map(|problem| solve(problem, None)).collect::<Vec<_>>());
    });
    group.finish();
}

criterion_group!(benches, demo, proofs);
criterion_main!(benches);

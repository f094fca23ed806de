//! How long the answers of the day take: the odds of the demo, and a new plan when something runs late.

use std::hint::black_box;
use std::path::PathBuf;

use criterion::{Criterion, criterion_group, criterion_main};
use rangewright::models::compile::compile;
use rangewright::models::day::{Entry, Event, fold};
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::Crew;
use rangewright::models::{examples, read};
use rangewright::odds::{Dice, odds, ranges};
use rangewright::replan::replan;
use rangewright::{Limits, Outcome, solve};

/// A plan worth handing out.
const PLANNED: u64 = 20_000;
/// The search of a new plan.
const AGAIN: u64 = 5_000;

fn planned(problem: &Problem) -> Plan {
    let limits = Limits { work: Some(PLANNED), ..Limits::default() };
    match solve(problem, &limits).expect("no faults") {
        Outcome::Planned(planned) => planned.plan,
        other => panic!("{}: {other:?}", problem.name),
    }
}

/// Wanted: well under a second for ten thousand evenings.
fn evenings(criterion: &mut Criterion) {
    let demo = examples::demo();
    let feast = read::feast(demo.menu, demo.menu_name, |name| demo.kitchen_text(name)).expect("no faults");
    let compiled = compile(&feast).expect("no faults");
    let (plan, crew) = (planned(&compiled.problem), Crew::named(&compiled.labels));
    let known = ranges(&compiled.problem, &plan, 10);
    let mut group = criterion.benchmark_group("odds");
    group.sample_size(10);
    group.bench_function("demo, 10,000 evenings", |bencher| {
        bencher.iter(|| odds(black_box(&compiled.problem), &plan, &crew, &known, Dice::default()));
    });
}

/// Wanted: under a second for twelve dishes. What runs in an oven an hour before the last serving needs twenty more minutes.
fn replanning(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("replan");
    group.sample_size(10);
    for (name, kitchen) in [("12 dishes", "crowded-1"), ("24 dishes", "banquet-1")] {
        let path =
            PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("../tests/data/kitchens/instances/{kitchen}.json"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        let problem: Problem = serde_json::from_str(&text).expect("a problem");
        let (plan, crew) = (planned(&problem), Crew::of(&problem));
        let now = plan.served.values().max().expect("a course") - 60;
        let running = plan.steps.iter().find(|(_, own)| own.start < now && own.end > now).expect("something runs");
        let event = Event::Needs { step: running.0.clone(), minutes: running.1.end - now + 20 };
        let day = fold(&problem, &plan, &[Entry { at: now, event }], now).expect("it runs");
        let limits = Limits { work: Some(AGAIN), ..Limits::default() };
        group.bench_function(name, |bencher| {
            bencher.iter(|| replan(black_box(&problem), &plan, &day, &crew, &limits));
        });
    }
}

criterion_group!(day, evenings, replanning);
criterion_main!(day);

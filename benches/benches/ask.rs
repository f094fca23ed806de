//! How long answers take: whether two dishes can share, and why a kitchen's evening is impossible.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use rangewright::Limits;
use rangewright::ask::can_share;
use rangewright::models::compile::compile;
use rangewright::models::cook::roast::{Roast, Wanted, problem};
use rangewright::models::cook::safety::Region;
use rangewright::models::cook::{Cut, Meat};
use rangewright::models::kitchen::{CavitySort, CavitySpec};
use rangewright::models::problem::{Heat, Problem};
use rangewright::models::{examples, read};
use rangewright::why::why_not;

/// The limit of the command.
const WORK: u64 = 50_000;

fn limits() -> Limits<'static> {
    Limits { work: Some(WORK), ..Limits::default() }
}

/// Wanted: under 50 ms each.
fn sharing(criterion: &mut Criterion) {
    let demo = examples::demo();
    let feast = read::feast(demo.menu, demo.menu_name, |name| demo.kitchen_text(name)).expect("the demo has no faults");
    let supper = compile(&feast).expect("the demo has no faults").problem;
    let mut group = criterion.benchmark_group("share");
    group.sample_size(20);
    let dish = |part: &str| {
        let found = supper.dishes.iter().find(|dish| dish.id.contains(part));
        found.expect("a dish of the demo").id.clone()
    };
    for (name, dishes) in [
        ("gratin, beetroot", &["gratin", "beetroot"][..]),
        ("shoulder, gratin", &["shoulder", "gratin"]),
        ("rolls, tart", &["rolls", "tart"]),
        ("rolls, tart, gratin", &["rolls", "tart", "gratin"]),
    ] {
        let ids: Vec<String> = dishes.iter().map(|part| dish(part)).collect();
        let ids: Vec<&str> = ids.iter().map(String::as_str).collect();
        group.bench_function(name, |bencher| {
            bencher.iter(|| can_share(black_box(&supper), &ids, "big-oven", &limits()));
        });
    }
    let wanted =
        |name: &str, roast, oven_c| Wanted { name: name.to_owned(), roast, heat: Heat::Static, oven_c, pan: None };
    let roasts = [
        wanted("loin", Roast::of(Meat::Pork, Cut::Loin, 2_000.0, 65.0), [150, 170]),
        wanted("leg", Roast { bone: true, ..Roast::of(Meat::Lamb, Cut::Leg, 2_400.0, 60.0) }, [140, 160]),
    ];
    let oven = CavitySpec::usual(CavitySort::Oven, [460, 400, 360]).cavity("oven");
    let two = problem(&roasts, oven, Region::default()).expect("two roasts").problem;
    group.bench_function("two roasts", |bencher| {
        bencher.iter(|| can_share(black_box(&two), &["loin", "leg"], "oven", &limits()));
    });
    group.finish();
}

/// Wanted: under 5 s each.
fn reasons(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("why not");
    group.sample_size(10);
    for (name, json) in [
        ("nohours-1", include_str!("../../tests/data/kitchens/instances/nohours-1.json")),
        ("nohours-3", include_str!("../../tests/data/kitchens/instances/nohours-3.json")),
        ("nohours-4", include_str!("../../tests/data/kitchens/instances/nohours-4.json")),
        ("nohours-5", include_str!("../../tests/data/kitchens/instances/nohours-5.json")),
        ("nohours-6", include_str!("../../tests/data/kitchens/instances/nohours-6.json")),
        ("nohours-7", include_str!("../../tests/data/kitchens/instances/nohours-7.json")),
    ] {
        let problem: Problem = serde_json::from_str(json).expect("test data of our own form");
        group.bench_function(name, |bencher| {
            bencher.iter(|| why_not(black_box(&problem), &Limits { work: Some(400_000), ..Limits::default() }));
        });
    }
    group.finish();
}

criterion_group!(benches, sharing, reasons);
criterion_main!(benches);

//! How long the heat model takes: a round roast under 2 ms, a block under 20 ms, a forecast of a dozen temperatures.

use criterion::{Criterion, criterion_group, criterion_main};
use rangewright::models::cook::roast::{Oven, Roast, forecast, minutes_to};
use rangewright::models::cook::{Cut, Meat};
use rangewright::models::problem::Heat;

fn roasts(c: &mut Criterion) {
    let oven = Oven::new(Heat::Fan, 110, 220);
    let bar = Roast { thickness_mm: Some(110.0), ..Roast::of(Meat::Lamb, Cut::Leg, 2_500.0, 60.0) };
    let block = Roast {
        thickness_mm: Some(100.0),
        breadth_mm: Some(160.0),
        length_mm: Some(200.0),
        ..Roast::of(Meat::Pork, Cut::Brick, 3_000.0, 60.0)
    };
    c.bench_function("round roast, one temperature", |b| b.iter(|| minutes_to(&bar, &oven, 150.0, 55.0)));
    c.bench_function("block, one temperature", |b| b.iter(|| minutes_to(&block, &oven, 150.0, 55.0)));
    c.bench_function("round roast, forecast of twelve temperatures", |b| b.iter(|| forecast(&bar, &oven)));
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10);
    targets = roasts
}
criterion_main!(benches);

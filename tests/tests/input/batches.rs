//! Batches one after the other, and small things that go in as one load.

use rangewright::models::compile::{Compiled, compile};
use rangewright::models::read;

fn compiled(steps: &str) -> Compiled {
    let menu = format!(
        "(name: \"Test\", kitchen: (places: [Oven(\"oven\", \"44 x 38 x 32 cm\"), Burners(\"burner\", 2)]), guests: 6,
          date: \"2026-11-08\", zone: \"Europe/London\", serve: \"19:00\", dishes: [Dish(\"Dish\", [{steps}])])"
    );
    let feast = read::feast(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
    compile(&feast).unwrap_or_else(|faults| panic!("{faults}"))
}

/// Whoever fries stands by from the first batch to the last: one step, one cook, one pan.
#[test]
fn batches_of_frying_are_one_step_by_one_cook() {
    let whole = compiled("Fry(takes: \"6 min\", batches: 3, late: \"1 min\")");
    let mode = &whole.problem.steps[0].modes[0];
    assert_eq!((whole.problem.steps.len(), mode.min, mode.max, mode.hands), (1, 18, 18, 1));
    assert_eq!((mode.spread, mode.touches.len()), (Some([0, 3]), 0));
    let notes = &whole.labels.steps["dish/fry"].modes[0].notes;
    assert_eq!(notes, &["In 3 batches of 6 min each, one after the other"]);
}

/// Between two batches in an oven one is taken out and the next put in.
#[test]
fn batches_of_baking_are_changed_by_hand() {
    let whole = compiled(
        "Bake(at: \"200 C\", takes: \"15 min\", batches: 3, pan: \"40 x 30 x 4 cm\", touches: [Touch(\"Turn\", \"7 min\")])",
    );
    let mode = &whole.problem.steps[0].modes[0];
    assert_eq!((mode.min, mode.load, mode.unload), (45, 1, 2));
    let touches: Vec<[i64; 2]> = mode.touches.iter().map(|touch| [touch.at, touch.minutes]).collect();
    assert_eq!(touches, [[7, 1], [13, 3], [22, 1], [28, 3], [37, 1]]);
    assert_eq!(whole.labels.steps["dish/bake"].modes[0].touches[1], "Take batch 1 of 3 out, put the next in");
}

#[test]
fn small_things_are_one_load_and_large_pans_are_not() {
    let whole = compiled("Bake(at: \"160 C\", takes: \"30 min\", pan: \"9 x 9 x 5 cm\", weight: \"200 g\", pans: 10)");
    let mode = &whole.problem.steps[0].modes[0];
    assert_eq!((whole.problem.steps.len(), mode.weight), (1, Some(2_000)));
    assert_eq!(mode.pan, Some([270, 360, 50]), "three beside each other, four rows");
    let large = compiled("Bake(at: \"160 C\", takes: \"30 min\", pan: \"24 x 20 x 5 cm\", pans: 3)");
    assert_eq!(large.problem.steps.len(), 3);
    let many = compiled("Bake(at: \"160 C\", takes: \"30 min\", pan: \"16 x 16 x 5 cm\", pans: 7)");
    assert_eq!(many.problem.steps.len(), 7, "no rack has room for all of them");
}

//! Evenings played to their end: whoever logs and follows the new plans is no worse off than whoever carries on.

use rangewright::models::compile::compile;
use rangewright::models::schedule::Crew;
use rangewright::models::{examples, read};
use rangewright::{Limits, Outcome, solve};
use rangewright_benches::evenings::{Arm, Evening, Luck, play};

/// Plays some evenings of an example with each arm.
fn played(name: &str, numbers: &[u64]) -> Vec<[Evening; 3]> {
    let example = examples::ALL.iter().find(|example| example.name == name).expect("an example");
    let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).expect("no faults");
    let compiled = compile(&feast).expect("no faults");
    let crew = Crew::named(&compiled.labels);
    let limits = |work| Limits { work: Some(work), ..Limits::default() };
    let Outcome::Planned(planned) = solve(&compiled.problem, &limits(3_000)).expect("no faults") else {
        panic!("{name} has a plan");
    };
    let evening = |&number: &u64| {
        let luck = Luck::new(&compiled.problem, number);
        Arm::ALL.map(|arm| play(&compiled.problem, &planned.plan, &crew, &luck, arm, &limits(300)))
    };
    numbers.iter().map(evening).collect()
}

/// What is announced comes; no log line is refused; and nobody is later for having logged.
fn logging_pays(name: &str, numbers: &[u64]) {
    let evenings = played(name, numbers);
    let late = |arm: usize| evenings.iter().map(|own| own[arm].main_late).sum::<i64>();
    // A minute for each evening: what takes longer is not known before it does.
    let leeway = numbers.len() as i64;
    assert!(late(1) <= late(0) + leeway && late(2) <= late(0) + leeway, "{evenings:#?}");
    for own in evenings.iter().flatten() {
        assert!(own.false_alarm <= 15, "told {} min that did not come: {own:?}", own.false_alarm);
        assert_eq!(own.hopeless, 0, "{own:?}");
    }
}

#[test]
fn logging_pays_on_the_porch() {
    logging_pays("porch", &[1, 2, 3, 4]);
}

#[test]
fn logging_pays_at_the_lantern_supper() {
    logging_pays("lantern", &[3]);
}

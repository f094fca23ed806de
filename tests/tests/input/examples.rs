//! The examples that are shipped are planned as they stand.

use rangewright::models::compile::{Compiled, compile};
use rangewright::models::labels::Labels;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::schedule;
use rangewright::models::{examples, read};
use rangewright::{Limits, Outcome};

/// A feast that is compiled can be stored: its problem and its labels are read back from JSON as they were.
#[test]
fn problem_and_labels_come_back() {
    for example in examples::ALL {
        let compiled =
            compile(&read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).expect("read"));
        // Some examples show what cannot be planned.
        let Ok(Compiled { problem, labels }) = compiled else { continue };
        let stored = serde_json::to_string(&(&problem, &labels)).expect("plain data");
        let again: (Problem, Labels) =
            serde_json::from_str(&stored).unwrap_or_else(|error| panic!("{}: {error}", example.name));
        assert_eq!(again, (problem, labels), "{}", example.name);
    }
}

/// Gas marks on the dial are those of the menu; batches are one line each.
#[test]
fn dinners_in_gas_marks_and_batches_are_planned_on_time() {
    for name in ["midwinter", "banquet"] {
        let example = examples::ALL.iter().find(|own| own.name == name).expect("it is shipped");
        let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).expect(name);
        let compiled = compile(&feast).expect(name);
        let limits = Limits { work: Some(20_000), ..Limits::default() };
        let Ok(Outcome::Planned(planned)) = rangewright::solve(&compiled.problem, &limits) else {
            panic!("{name} has a plan")
        };
        assert_eq!(planned.plan.lateness, 0, "{name}");
        let day = schedule(&compiled.problem, &planned.plan);
        if name == "midwinter" {
            let asked: Vec<i64> = compiled
                .labels
                .steps
                .values()
                .flat_map(|step| &step.modes)
                .filter_map(|mode| mode.asked)
                .map(|t| t.whole())
                .collect();
            let mut dials = day.cavities[0].settings.iter().filter_map(|setting| setting.degrees);
            assert!(dials.all(|degrees| asked.contains(&degrees)), "{:?}", day.cavities[0].settings);
        }
    }
}

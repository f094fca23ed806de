//! The examples that are shipped are planned as they stand.

use rangewright::models::compile::compile;
use rangewright::models::schedule::schedule;
use rangewright::models::{examples, read};
use rangewright::{Limits, Outcome};

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

//! A class of groups is planned with a sheet for each, and sharing an oven and an instructor.

use rangewright::models::{examples, read};
use rangewright::{Limits, Outcome};

/// Groups that nothing tells apart do not slow the search: the class is proved best within little work.
#[test]
fn a_class_of_three_groups_is_planned_and_proved() {
    let example = examples::ALL.iter().find(|own| own.name == "class").expect("it is shipped");
    let feast = read::feast(example.menu, example.menu_name, |name| example.kitchen_text(name)).expect("no faults");
    let limits = Limits { work: Some(50_000), ..Limits::default() };
    let Ok(Outcome::Planned(planned)) = rangewright::plan(&feast, &limits) else { panic!("the class has a plan") };
    assert_eq!(planned.plan().lateness, 0);
    assert_eq!(planned.plan().status, rangewright::models::plan::Status::Optimal);
    // Whoever is in a group does only what is its own; the fryer is the instructor's alone.
    let problem = planned.problem();
    for hand in &planned.plan().hands {
        let step = problem.steps.iter().find(|step| step.id == hand.step).expect("a step");
        for cook in &hand.cooks {
            let instructor = step.kind == "deep-fry" || step.kind == "stand by" || step.dish == "herb-yoghurt";
            assert_eq!(cook == "Odile", instructor, "{} by {cook}", hand.step);
            let row = cook.strip_prefix("Row ").and_then(|rest| rest.split(' ').next());
            assert!(row.is_none_or(|row| step.dish.ends_with(&format!("row-{row}"))), "{} by {cook}", hand.step);
        }
    }
}

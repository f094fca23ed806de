use crate::compile::{self, Compiled};
use crate::faults::{Code, Faults};
use crate::problem::Step;

/// A menu of fritters and a salad, with these words in its cooks, its dishes and its steps.
fn feast(cooks: &str, dish: &str, fry: &str, touch: &str) -> Result<Compiled, Faults> {
    let menu = format!(
        r#"Menu(name: "Fritters", guests: 6, date: "2026-11-08", zone: "Europe/London", serve: "19:00",
            kitchen: Kitchen(places: [Burners("burner", 2), Oven("oven", "46 x 40 x 36 cm")]),
            cooks: [{cooks}],
            dishes: [
                Dish(name: "Fritters", {dish} steps: [
                    Prep("Grate and mix", "20 min"),
                    DeepFry(do: "Fry the fritters", takes: "12 min", {fry}),
                ]),
                Dish(name: "Squash", steps: [
                    Roast(do: "Roast the squash", at: "200 C", takes: "40 min", pan: "40 x 30 x 5 cm",
                        touches: [Touch(do: "Turn", at: "20 min", takes: "2 min", {touch})]),
                ]),
            ])"#
    );
    compile::feast(&menu, "fritters", |_| Err("it stands in the menu".to_owned()))
}

const THREE: &str =
    r#"Cook("Odile", ["16:00 to 20:00"]), Cook("Ben", ["17:00 to 20:00"]), Cook("Ivy", ["17:00 to 20:00"])"#;

fn step<'a>(compiled: &'a Compiled, id: &str) -> &'a Step {
    compiled.problem.steps.iter().find(|step| step.id == id).unwrap_or_else(|| panic!("there is {id}"))
}

fn who(compiled: &Compiled, id: &str) -> Vec<String> {
    step(compiled, id).modes[0].who.clone().unwrap_or_default()
}

fn codes(compiled: Result<Compiled, Faults>) -> Vec<Code> {
    compiled.err().map_or_else(Vec::new, |faults| faults.iter().map(|fault| fault.code).collect())
}

#[test]
fn hands_are_counted_where_nobody_is_named() {
    let compiled = feast(THREE, "", "", "").unwrap();
    assert!(compiled.problem.cooks.is_empty() && !compiled.problem.shifts.is_empty());
    assert!(compiled.problem.steps.iter().flat_map(|step| &step.modes).all(|mode| mode.who.is_none()));
}

#[test]
fn a_step_is_for_whom_it_names_then_for_whom_its_dish_names() {
    let compiled = feast(THREE, r#"cook: ["Ben", "Ivy"],"#, r#"cook: "odile""#, "").unwrap();
    let names: Vec<&str> = compiled.problem.cooks.iter().map(|cook| cook.id.as_str()).collect();
    assert_eq!(names, ["Odile", "Ben", "Ivy"]);
    assert!(compiled.problem.shifts.is_empty());
    assert_eq!(compiled.problem.cooks[0].shifts[0].start, 16 * 60);
    assert_eq!(who(&compiled, "fritters/prep"), ["Ben", "Ivy"]);
    assert_eq!(who(&compiled, "fritters/deep-fry"), ["Odile"]);
    assert_eq!(step(&compiled, "squash/roast").modes[0].who, None);
}

#[test]
fn helpers_do_only_what_they_may() {
    let cooks = r#"Cook(name: "Odile", shifts: ["16:00 to 20:00"]), Cook(name: "Kit", shifts: ["16:00 to 20:00"], only: [Prep, dress])"#;
    let compiled = feast(cooks, "", "", "").unwrap();
    assert_eq!(step(&compiled, "fritters/prep").modes[0].who, None, "both may prepare");
    assert_eq!(who(&compiled, "fritters/deep-fry"), ["Odile"]);
    assert_eq!(who(&compiled, "squash/roast"), ["Odile"]);
    assert_eq!(codes(feast(cooks, "", r#"cook: "Kit""#, "")), [Code::Contradiction]);
    let child = r#"Cook(name: "Kit", shifts: ["16:00 to 20:00"], only: [Prep])"#;
    assert_eq!(codes(feast(child, "", "", "")), [Code::NotEnough; 2]);
}

/// Who is there besides is held from the first minute of the step, by a link that leaves no choice.
#[test]
fn somebody_is_there_besides() {
    let compiled = feast(THREE, "", r#"cook: ["Ben", "Ivy"], with: "Odile""#, "").unwrap();
    let with = &step(&compiled, "fritters/deep-fry.with").modes[0];
    assert_eq!((with.min, with.max, with.hands, with.who.as_deref()), (12, 12, 1, Some(&["Odile".to_owned()][..])));
    let link = compiled.problem.links.iter().find(|link| link.from == "fritters/deep-fry.with").unwrap();
    assert_eq!((link.to.as_str(), link.min, link.max), ("fritters/deep-fry", -12, Some(-12)));
    let compiled = feast(THREE, "", r#"with: [With("Odile", "5 min")]"#, "").unwrap();
    assert_eq!(step(&compiled, "fritters/deep-fry.with").modes[0].max, 5);
    assert_eq!(codes(feast(THREE, "", r#"with: With("Odile", "15 min")"#, "")), [Code::TooShort]);
    assert_eq!(codes(feast(THREE, "", r#"cook: "Odile", with: "Odile""#, "")), [Code::Contradiction]);
}

#[test]
fn a_touch_may_be_another_cooks() {
    let compiled = feast(THREE, "", "", r#"cook: "Ivy""#).unwrap();
    assert!(step(&compiled, "squash/roast").modes[0].touches.is_empty());
    let turn = step(&compiled, "squash/roast.touch");
    assert_eq!((turn.modes[0].min, turn.modes[0].who.as_deref()), (2, Some(&["Ivy".to_owned()][..])));
    assert_eq!(compiled.labels.steps["squash/roast.touch"].title, "Turn: Squash");
    let link = compiled.problem.links.iter().find(|link| link.from == "squash/roast.touch").unwrap();
    assert_eq!(link.max, Some(-22), "twenty minutes after the start, for two");
}

#[test]
fn names_are_checked_and_enough() {
    assert_eq!(codes(feast(THREE, r#"cook: "Odil","#, "", "")), [Code::UnknownName]);
    assert_eq!(codes(feast("", "", r#"cook: "Odile""#, "")), [Code::UnknownName]);
    assert_eq!(codes(feast(THREE, "", r#"cook: "Ben", hands: 2"#, "")), [Code::NotEnough]);
    let twice = r#"Cook("Ben", ["16:00 to 20:00"]), Cook("ben", ["16:00 to 20:00"])"#;
    assert_eq!(codes(feast(twice, "", r#"cook: "Ben""#, "")), [Code::DuplicateName]);
}

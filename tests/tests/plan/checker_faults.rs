//! The evening of the checker, made meaningless in each single way: the fault is named, and no other.

use proptest::prelude::*;
use rangewright::models::check::{check, cost};
use rangewright::models::plan::Plan;
use rangewright::models::problem::{After, FaultKind, Mode, Named, Place, Problem, ProblemFault, Shift, Touch};
use rangewright_tests::data;
use serde_json::Value;

fn evening() -> Problem {
    data::json("checker/evening.json")
}

fn after(change: impl FnOnce(&mut Problem)) -> Vec<(String, FaultKind)> {
    let mut problem = evening();
    change(&mut problem);
    problem.faults().into_iter().map(|ProblemFault { at, what }| (at, what)).collect()
}

fn fault(at: &str, what: FaultKind) -> Vec<(String, FaultKind)> {
    vec![(at.to_owned(), what)]
}

fn out(value: i64, least: i64, most: i64) -> FaultKind {
    FaultKind::OutOfRange { value, least, most }
}

#[test]
fn ids() {
    assert_eq!(after(|_| ()), []);
    let first = |list: &str| FaultKind::DuplicateId { first: list.to_owned() };
    assert_eq!(after(|p| p.dishes[1].id = "bread".to_owned())[0], fault(r#"dishes[1] "bread""#, first("dishes[0]"))[0]);
    let twice = after(|p| {
        let mut oven = p.places[0].clone();
        if let Place::Cavity(cavity) = &mut oven {
            cavity.width = 400;
        }
        p.places.push(oven);
    });
    assert_eq!(twice, fault(r#"places[4] "oven""#, first("places[0]")));
    assert_eq!(
        after(|p| p.dishes.push(rangewright::models::problem::Dish { id: String::new(), name: String::new() })),
        fault("dishes[5]", FaultKind::EmptyId)
    );
    assert_eq!(
        after(|p| {
            p.pools.insert(String::new(), 1);
        }),
        fault(r#"pools """#, FaultKind::EmptyId)
    );
    let unknown = |named, id: &str| FaultKind::UnknownId { named, id: id.to_owned() };
    let sink = after(|p| p.courses[1].sinks[0].step = "dip".to_owned());
    assert_eq!(
        sink,
        [
            (r#"courses[1] "sweet" sinks[0]"#.to_owned(), unknown(Named::Step, "dip")),
            (r#"steps[10] "chill""#.to_owned(), FaultKind::ReachesNoSink)
        ]
    );
}

#[test]
fn courses_in_a_circle() {
    let circle = after(|p| p.courses[0].after = Some(After { course: "sweet".to_owned(), min: 0, max: None }));
    let courses = vec!["supper".to_owned(), "sweet".to_owned()];
    assert_eq!(circle, fault(r#"courses[0] "supper""#, FaultKind::CyclicCourses { courses }));
    let itself = after(|p| p.courses[1].after = Some(After { course: "sweet".to_owned(), min: 0, max: None }));
    let courses = vec!["sweet".to_owned()];
    assert_eq!(itself, fault(r#"courses[1] "sweet""#, FaultKind::CyclicCourses { courses }));
}

#[test]
fn circles_of_links_are_named_step_by_step() {
    let circle = after(|p| {
        let back = p.links[0].clone();
        p.links.push(rangewright::models::problem::Link { from: "bake".to_owned(), to: "knead".to_owned(), ..back });
    });
    let steps = vec!["knead".to_owned(), "bake".to_owned()];
    assert_eq!(circle, fault(r#"steps[0] "knead""#, FaultKind::CyclicLinks { steps }));
    assert_eq!(
        circle[0].1.to_string(),
        r#"the links close a circle: "knead" -> "bake" -> "knead"; remove one of these links"#
    );
}

#[test]
fn what_modes_lack() {
    let missing = |field: &str| FaultKind::MissingField { field: field.to_owned() };
    let bake = r#"steps[1] "bake" modes[0]"#;
    let lacks = |change: fn(&mut Mode)| after(|p| change(&mut p.steps[1].modes[0]));
    assert_eq!(lacks(|mode| mode.t = None), fault(bake, missing("t")));
    assert_eq!(lacks(|mode| mode.heat = None), fault(bake, missing("heat")));
    assert_eq!(lacks(|mode| mode.pan = None), fault(bake, missing("pan")));
    assert_eq!(lacks(|mode| mode.weight = None), fault(bake, missing("weight")));
    let simmer = r#"steps[7] "simmer" modes[0]"#;
    assert_eq!(after(|p| p.steps[7].modes[0].level = None), fault(simmer, missing("level")));
    assert_eq!(after(|p| p.steps[7].modes[0].diameter = None), fault(simmer, missing("diameter")));
    assert_eq!(after(|p| p.steps[7].modes.clear()), fault(r#"steps[7] "simmer""#, FaultKind::NoModes));
}

#[test]
fn windows_upside_down() {
    let upside_down = |low, high| FaultKind::UpsideDown { low, high };
    let bake = |field: &str| format!(r#"steps[1] "bake" modes[0] {field}"#);
    assert_eq!(after(|p| p.steps[1].modes[0].t = Some([200, 199])), fault(&bake("t"), upside_down(200, 199)));
    assert_eq!(
        after(|p| p.steps[7].modes[0].level = Some([5, 4])),
        fault(r#"steps[7] "simmer" modes[0] level"#, upside_down(5, 4))
    );
    assert_eq!(after(|p| p.shifts[0].end = 599), fault("shifts[0]", upside_down(600, 599)));
    let times = after(|p| (p.steps[1].earliest, p.steps[1].latest) = (Some(700), Some(699)));
    assert_eq!(times, fault(r#"steps[1] "bake""#, FaultKind::EarliestAfterLatest { earliest: 700, latest: 699 }));
    let min_max = |min, max| FaultKind::MaxBelowMin { min, max };
    assert_eq!(after(|p| p.links[0].max = Some(-1)), fault("links[0]", min_max(0, -1)));
    assert_eq!(
        after(|p| p.courses[1].after.as_mut().unwrap().max = Some(19)),
        fault(r#"courses[1] "sweet" after"#, min_max(20, 19))
    );
}

#[test]
fn what_is_allowed() {
    assert_eq!(after(|p| p.links[0].min = -43_200), []);
    assert_eq!(after(|p| p.steps[1].modes[0].touches = vec![Touch::fixed(43_200, 43_200)]), [], "a touch past the end");
    assert_eq!(after(|p| p.steps[10].modes[0].max = 43_200), [], "very elastic");
    let touching = |start, end| Shift { start, end, hands: 1 };
    assert_eq!(after(|p| p.shifts = vec![touching(700, 900), touching(600, 700), touching(900, 900)]), []);
    assert_eq!(after(|p| p.steps[2].modes[0].t = Some([1, 2])), [], "the counter knows no temperature");
    assert_eq!(after(|p| p.steps[2].modes[0].min = 0), [], "nothing is needed");
    assert_eq!(after(|p| p.courses[0].serve = 43_200), []);
    assert_eq!(after(|p| p.links.push(p.links[0].clone())), [], "two links between the same steps");
}

#[test]
fn shifts_that_overlap_are_each_named_once() {
    let shift = |start, end| Shift { start, end, hands: 1 };
    let found = after(|p| p.shifts = vec![shift(600, 900), shift(650, 700), shift(800, 1_000), shift(950, 960)]);
    let overlap = |other| FaultKind::ShiftsOverlap { other };
    let named: Vec<_> = found.iter().map(|(at, what)| (at.as_str(), what.clone())).collect();
    assert_eq!(named, [("shifts[1]", overlap(0)), ("shifts[2]", overlap(0)), ("shifts[3]", overlap(2))]);
}

/// One past each end of each legal range.
#[test]
fn numbers_out_of_range() {
    type Change = fn(&mut Problem, i64);
    fn oven(p: &mut Problem) -> &mut rangewright::models::problem::Cavity {
        let Place::Cavity(oven) = &mut p.places[0] else { panic!("the oven comes first") };
        oven
    }
    let cases: [(Change, &str, i64, i64); 24] = [
        (|p, n| p.opening = n, "opening", 0, 43_200),
        (|p, n| p.shifts[0].hands = n, "shifts[0] hands", 0, 1_000),
        (|p, n| *p.pools.get_mut("mixer").unwrap() = n, r#"pools "mixer""#, 0, 1_000_000),
        (|p, n| oven(p).width = n, r#"places[0] "oven" width"#, 1, 5_000),
        (|p, n| oven(p).clearance = n, r#"places[0] "oven" clearance"#, 0, 5_000),
        (|p, n| oven(p).racks = n, r#"places[0] "oven" racks"#, 1, 20),
        (|p, n| oven(p).max_weight = n, r#"places[0] "oven" max_weight"#, 1, 1_000_000),
        (|p, n| oven(p).t_open = n, r#"places[0] "oven" t_open"#, -40, 600),
        (|p, n| oven(p).rise = n, r#"places[0] "oven" rise"#, 1, 10_000),
        (|p, n| oven(p).fall = n, r#"places[0] "oven" fall"#, 1, 10_000),
        (|p, n| oven(p).settle = n, r#"places[0] "oven" settle"#, 0, 43_200),
        (|p, n| oven(p).cool_off = n, r#"places[0] "oven" cool_off"#, 0, 43_200),
        (|p, n| p.courses[0].serve = n, r#"courses[0] "supper" serve"#, 0, 43_200),
        (|p, n| p.courses[0].weight = n, r#"courses[0] "supper" weight"#, 0, 1_000_000),
        (|p, n| p.courses[0].max_slip = n, r#"courses[0] "supper" max_slip"#, 0, 43_200),
        (|p, n| p.courses[0].together = n, r#"courses[0] "supper" together"#, 0, 43_200),
        (|p, n| p.courses[0].sinks[0].wait.soft = Some(n), r#"courses[0] "supper" sinks[0] wait"#, 0, 43_200),
        (|p, n| p.steps[1].modes[0].min = n, r#"steps[1] "bake" modes[0] min"#, 0, 43_200),
        (|p, n| p.steps[1].modes[0].cost = n, r#"steps[1] "bake" modes[0] cost"#, 0, 1_000_000),
        (|p, n| p.steps[1].modes[0].shut = n, r#"steps[1] "bake" modes[0] shut"#, 0, 43_200),
        (|p, n| p.steps[1].modes[0].weight = Some(n), r#"steps[1] "bake" modes[0] weight"#, 1, 1_000_000),
        (|p, n| p.steps[7].modes[0].diameter = Some(n), r#"steps[7] "simmer" modes[0] diameter"#, 1, 5_000),
        (|p, n| p.steps[7].modes[0].touches[0].minutes = n, r#"steps[7] "simmer" modes[0] touches minutes"#, 0, 43_200),
        (|p, n| p.links[0].min = n, "links[0] min", -43_200, 43_200),
    ];
    for (change, at, least, most) in cases {
        for value in [least - 1, most + 1, i64::MIN, i64::MAX] {
            assert_eq!(after(|p| change(p, value)), fault(at, out(value, least, most)), "{at} {value}");
        }
        for value in [least, most] {
            let found = after(|p| change(p, value));
            assert!(found.iter().all(|(_, what)| !matches!(what, FaultKind::OutOfRange { .. })), "{at} {value}");
        }
    }
}

/// Every number of a JSON value, one after the other.
fn numbers(value: &mut Value) -> Vec<&mut Value> {
    match value {
        Value::Number(_) => vec![value],
        Value::Array(items) => items.iter_mut().flat_map(numbers).collect(),
        Value::Object(fields) => fields.values_mut().flat_map(numbers).collect(),
        _ => Vec::new(),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever the numbers are, faults are found, plans are checked and costed, and nothing overflows.
    #[test]
    fn no_number_makes_it_panic(
        changes in prop::collection::vec((any::<prop::sample::Index>(), prop_oneof![
            any::<i64>(), -2..3_i64, Just(i64::MAX), Just(i64::MIN), 43_100..43_300_i64, 999_990..1_000_010_i64
        ]), 1..6),
        in_plan in any::<bool>(),
    ) {
        let name = if in_plan { "checker/plan.json" } else { "checker/evening.json" };
        let mut value: Value = data::json(name);
        for (index, number) in changes {
            let mut all = numbers(&mut value);
            let at = index.index(all.len());
            *all[at] = number.into();
        }
        let (problem, plan): (Problem, Plan) = if in_plan {
            let Ok(plan) = serde_json::from_value(value) else { return Ok(()) };
            (evening(), plan)
        } else {
            let Ok(problem) = serde_json::from_value(value) else { return Ok(()) };
            (problem, data::json("checker/plan.json"))
        };
        for fault in problem.faults() {
            prop_assert!(!fault.to_string().is_empty());
        }
        let _ = cost(&problem, &plan);
        if let Err(violations) = check(&problem, &plan) {
            prop_assert!(violations.iter().all(|violation| !violation.to_string().is_empty()));
        }
    }
}

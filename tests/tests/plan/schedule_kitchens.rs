//! Every reference plan gives a schedule that can be done.

use std::fs;
use std::path::PathBuf;

use rangewright::models::compile;
use rangewright::models::plan::Plan;
use rangewright::models::problem::Problem;
use rangewright::models::schedule::{self, Crew, Schedule, What};
use rangewright::{Limits, Outcome, solve};

fn data(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/kitchens").join(name)
}

fn read(name: &str) -> (Problem, Plan) {
    let problem = fs::read_to_string(data(&format!("instances/{name}.json"))).expect("an instance");
    let plan = fs::read_to_string(data(&format!("plans/{name}.json"))).expect("a plan");
    (serde_json::from_str(&problem).expect("a problem"), serde_json::from_str(&plan).expect("a plan"))
}

fn names() -> Vec<String> {
    let mut names: Vec<String> = fs::read_dir(data("plans"))
        .expect("plans")
        .map(|entry| entry.expect("an entry").path().file_stem().expect("a name").to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

#[test]
fn every_reference_plan_can_be_done() {
    let names = names();
    assert!(names.len() >= 30, "only {} plans", names.len());
    let mut all = Vec::new();
    for name in names {
        let (problem, plan) = read(&name);
        let day = schedule::schedule(&problem, &plan);
        let faults = schedule::check(&problem, &plan, &day);
        all.extend(faults.into_iter().map(|fault| format!("{name}: {fault}")));
    }
    assert!(all.is_empty(), "{} faults:\n{}", all.len(), all.join("\n"));
}

#[test]
fn the_first_heat_comes_as_late_as_it_may() {
    for name in names() {
        let (problem, plan) = read(&name);
        let day = schedule::schedule(&problem, &plan);
        for cavity in day.cavities {
            let (Some(first), Some(spell)) = (cavity.settings.first(), cavity.spells.first()) else { continue };
            let settle = problem.places.iter().find_map(|place| match place {
                rangewright::models::problem::Place::Cavity(own) if own.id == cavity.place => Some(own.settle),
                _ => None,
            });
            let ready = first.there + settle.expect("the cavity");
            // Somebody has to be there who turns the dial.
            let latest = first.at + spell.start - ready;
            let there = problem.shifts.iter().any(|shift| shift.start <= latest && latest <= shift.end);
            assert!(
                ready == spell.start || first.at == problem.opening || !there,
                "{name} {}: {first:?} {spell:?}",
                cavity.place
            );
        }
    }
}

#[test]
fn a_schedule_broken_in_one_way_is_found_out() {
    type Break = fn(&mut Schedule);
    let breaks: [(&str, Break); 15] = [
        ("a job lost", |day| drop(day.jobs.remove(day.jobs.iter().position(|job| job.what.busy()).expect("work")))),
        ("a job cut short", |day| day.jobs.iter_mut().find(|job| job.what.busy()).expect("work").until -= 1),
        ("a job without a cook", |day| {
            day.jobs.iter_mut().find(|job| job.what.busy()).expect("work").cooks.clear();
        }),
        ("everything for one cook", |day| {
            for job in day.jobs.iter_mut().filter(|job| job.what.busy() && job.cooks.len() == 1) {
                job.cooks = vec![0];
            }
        }),
        ("a cook who is not there", |day| day.jobs[0].cooks = vec![day.cooks.len()]),
        ("a pan in the wall", |day| day.cavities[0].spots[0].x += 1_000),
        ("a pan of another size", |day| day.cavities[0].spots[0].width -= 1),
        ("a pan out too early", |day| day.cavities[0].spots[0].until -= 1),
        ("two pans in one spot", |day| {
            let spots = &mut day.cavities[0].spots;
            for index in 1..spots.len() {
                (spots[index].x, spots[index].y, spots[index].floor) = (spots[0].x, spots[0].y, spots[0].floor);
            }
        }),
        ("an oven too cool", |day| day.cavities[0].settings[0].degrees = Some(45)),
        ("an oven lit too late", |day| day.cavities[0].settings[0].at += 20),
        ("the wrong heat", |day| day.cavities[0].settings[0].heat = None),
        ("a door that never opens", |day| day.cavities[0].doors.clear()),
        ("a burner that is not there", |day| {
            let hob = day.hobs.iter_mut().find(|hob| !hob.spots.is_empty()).expect("a hob in use");
            hob.spots[0].burner = 99;
        }),
        ("a course too early", |day| day.servings[0].at -= 30),
    ];
    let (problem, plan) = read("dinner-3");
    let crew = Crew::of(&problem);
    let good = schedule::schedule_with(&problem, &plan, &crew);
    assert_eq!(schedule::check_with(&problem, &plan, &crew, &good), []);
    for (what, spoil) in breaks {
        let mut day = good.clone();
        spoil(&mut day);
        assert!(!schedule::check_with(&problem, &plan, &crew, &day).is_empty(), "{what}");
    }
}

#[test]
fn what_is_done_in_passing_is_said_on_some_sheet() {
    for name in names() {
        let (problem, plan) = read(&name);
        let day = schedule::schedule(&problem, &plan);
        let silent = day.jobs.iter().find(|job| job.cooks.is_empty() && !matches!(job.what, What::Leave { .. }));
        assert_eq!(silent, None, "{name}");
    }
}

#[test]
fn a_plan_that_makes_no_sense_gives_a_schedule_that_does_not_either() {
    let (problem, mut plan) = read("small-1");
    for (index, planned) in plan.steps.values_mut().enumerate() {
        match index % 4 {
            0 => planned.mode = 1_000,
            1 => planned.start = i64::MIN,
            2 => planned.end = i64::MAX,
            _ => planned.start = planned.end + 5,
        }
    }
    let day = schedule::schedule(&problem, &plan);
    assert!(!schedule::check(&problem, &plan, &day).is_empty());
}

/// After a pause two pans go in at one minute: the oven is heated once for both, and switched off once.
#[test]
fn an_oven_is_turned_once_for_two_pans() {
    let menu = r#"Menu(name: "Tea", kitchen: Kitchen(places: [Oven("oven", "50 x 40 x 38 cm")], cooks: ["Ines", "Tom"]), guests: 8,
        date: "2026-11-08", zone: "Europe/London", serve: "16:00", dishes: [
            Dish("Buns", [Bake(at: "180 C", takes: "20 min", pan: "30 x 20 x 6 cm", by: "11:00"), Rest("Cool", "1 h or more")]),
            Dish("Puddings", [Bake(at: "220 C", takes: "22 min", pan: "30 x 20 x 6 cm", pans: 2)])])"#;
    let compiled = compile::feast(menu, "menu", |_| Err("none".to_owned())).expect("a menu");
    let limits = Limits { work: Some(20_000), ..Limits::default() };
    let Ok(Outcome::Planned(planned)) = solve(&compiled.problem, &limits) else { panic!("no plan") };
    let puddings = ["puddings/bake", "puddings/bake-2"].map(|id| planned.plan.steps[id].start);
    assert_eq!(puddings[0], puddings[1], "they go in together");
    let day = schedule::schedule(&compiled.problem, &planned.plan);
    let dial: Vec<Option<i64>> = day.cavities[0].settings.iter().map(|setting| setting.degrees).collect();
    assert_eq!(dial, [Some(180), None, Some(220), None]);
    assert_eq!(schedule::check(&compiled.problem, &planned.plan, &day), []);
}

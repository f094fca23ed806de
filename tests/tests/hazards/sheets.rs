//! Cautions short enough to be read: few at the jobs, each once in a part of its own.

use std::collections::BTreeSet;

use rangewright::models::caution::{Afterwards, JOBS_A_LINE, afterwards};
use rangewright::models::examples;
use rangewright::models::schedule::What;
use rangewright::{FeastPlan, Limits, Outcome, Planner};
use rangewright_cli::every_form;

fn markdown(example: &examples::Example) -> Option<String> {
    let planner =
        Planner::read(example.menu, example.menu_name, |name| example.kitchen_text(name)).expect("an example");
    let limits = Limits { work: Some(3_000), ..Limits::default() };
    let Ok(Outcome::Planned(feast)) = planner.plan(&limits) else { return None };
    let forms = every_form(&feast, std::time::SystemTime::UNIX_EPOCH);
    forms.into_iter().find(|(name, _)| name.ends_with(".md")).map(|(_, text)| text)
}

#[test]
fn no_more_than_one_job_in_five_has_a_caution() {
    let mut seen = 0;
    for example in examples::ALL {
        let Some(text) = markdown(example) else { continue };
        seen += 1;
        let (mut said, mut part) = (BTreeSet::new(), String::new());
        for sheet in text.split("\n## ") {
            let jobs = sheet.lines().filter(|line| line.starts_with("- [ ] **")).count();
            let cares: Vec<&str> = sheet.lines().filter(|line| line.contains("Take care:")).collect();
            assert!(cares.len() * JOBS_A_LINE <= jobs, "{}: {} of {jobs}: {cares:#?}", example.name, cares.len());
            if sheet.starts_with("Take care") {
                part = sheet.to_owned();
            }
        }
        for line in part.lines().filter(|line| line.starts_with("- ")) {
            let text = line.split("**: ").nth(1).unwrap_or(line);
            assert!(said.insert(text.to_owned()), "{}: said twice: {line}", example.name);
        }
        assert!(text.contains("\n## The hour after"), "{}", example.name);
    }
    assert!(seen > 3, "only {seen} examples were planned");
}

/// A caution stands where it bites, and what was inferred is shown as inferred.
#[test]
fn a_caution_stands_where_it_bites() {
    let all: String = examples::ALL.iter().filter_map(markdown).collect();
    assert!(all.contains("Take care: "), "no caution at any step");
    assert!(all.contains("What is in it") && all.contains("allergens: "), "contents are shown");
}

/// Raw thighs until 17:20, and leaves that are eaten as they are, by one cook.
fn thighs_and_leaves(region: &str, leaves: &str) -> FeastPlan {
    let menu = format!(
        r#"Menu(name: "Seed swap", kitchen: Kitchen(region: "{region}", places: [Oven("oven", "44 x 38 x 32 cm")]), guests: 4,
            date: "2026-12-05", zone: "Europe/London", serve: "18:30", dishes: [
            Dish("Chicken thighs", [Prep(do: "Trim the thighs", takes: "20 min", from: "17:00", by: "17:20"),
                Roast(at: "200 C", takes: "45 min", pan: "40 x 34 x 6 cm", by: "18:30")]),
            Dish("Leaves", [Prep(do: "Wash the leaves", takes: "10 min"{leaves}), Dress("Dress them", "5 min")])])"#
    );
    let planner = Planner::read(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
    match planner.plan(&Limits { work: Some(2_000), ..Limits::default() }) {
        Ok(Outcome::Planned(feast)) => feast,
        other => panic!("a plan: {other:?}"),
    }
}

/// The washes of a plan: when, and how long.
fn washes(feast: &FeastPlan) -> Vec<[i64; 2]> {
    let jobs = feast.schedule().jobs.iter().filter(|job| matches!(job.what, What::Wash { .. }));
    jobs.map(|job| [job.at, job.until]).collect()
}

#[test]
fn hands_are_washed_between_raw_meat_and_the_next_dish() {
    let minute = |clock: &str, feast: &FeastPlan| {
        let clock = rangewright::models::units::clock(clock).expect("a clock time");
        feast.planner().labels().calendar.minute(clock).expect("a minute")
    };
    let feast = thighs_and_leaves("UK", r#", from: "17:45""#);
    let trimmed = minute("17:20", &feast);
    assert_eq!(washes(&feast), [[trimmed, trimmed + 1]], "a minute of its own");
    // The leaves follow at once: no minute is left, and no job moves for it.
    let feast = thighs_and_leaves("UK", r#", from: "17:20", by: "17:30""#);
    assert_eq!(washes(&feast), [[trimmed, trimmed]], "in passing");
    // Nothing raw, nothing to wash.
    let supper = examples::ALL[1];
    let planner = Planner::read(supper.menu, supper.menu_name, |name| supper.kitchen_text(name)).expect("an example");
    let Ok(Outcome::Planned(feast)) = planner.plan(&Limits { work: Some(3_000), ..Limits::default() }) else {
        panic!("a plan");
    };
    assert_eq!(washes(&feast), [] as [[i64; 2]; 0]);
}

/// Two hours in both, and two days in the UK, up to four in the US: the figures that the sources named beside them give.
#[test]
fn leftovers_go_into_the_cold_in_time() {
    for (region, days) in [("UK", 2), ("US", 4)] {
        let feast = thighs_and_leaves(region, "");
        let served = feast.plan().served.values().copied().max().expect("a course");
        let all = afterwards(feast.problem(), feast.planner().labels(), feast.plan());
        let Some(Afterwards::Chill { dishes, eat_by, .. }) = all.first() else { panic!("{all:?}") };
        let Some((_, by)) = dishes.iter().find(|(dish, _)| dish == "Chicken thighs") else { panic!("{dishes:?}") };
        assert_eq!((by - served, (eat_by - served) / 1_440), (120, days), "{region}");
        let said = all[0].sentence(|minute| minute.to_string(), |minute| minute.to_string());
        assert_eq!(said.matches("from memory").count(), if region == "UK" { 2 } else { 1 }, "{said}");
        assert!(all.iter().any(|own| matches!(own, Afterwards::Off { places } if places == &["oven"])), "{all:?}");
        assert!(!all.contains(&Afterwards::Fat) && !all.contains(&Afterwards::Embers), "{all:?}");
    }
}

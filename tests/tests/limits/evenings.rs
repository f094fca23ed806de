//! What the cooks are told, judged from outside: every example, and random menus. `RANGEWRIGHT_MENUS=500` judges so many.

use std::fs;

use rangewright::Planner;
use rangewright::models::examples;
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};
use serde_json::Value;

use super::judge::{Presence, judge};
use super::menus::menu;

/// Menus that are judged each time.
const MENUS: u64 = 16;

/// Plans a menu with the command, and lets the judge read what it says. None if the menu was not planned.
fn judged(folder: &std::path::Path, file: &str, planner: &Planner) -> Result<Vec<String>, String> {
    let world = World { folder: Some(folder), ..World::default() };
    let answer = rangewright(&["plan", file, "--work", "1500", "--format", "json"], &world);
    if answer.exit != Exit::Planned {
        return Err(format!("{:?}: {}{}", answer.exit, answer.out, answer.err));
    }
    let said: Value = serde_json::from_str(&answer.out).expect("JSON");
    let problem = serde_json::to_value(planner.problem()).expect("a problem is data");
    let cooks = &planner.crew().cooks;
    let present: Presence = cooks.iter().map(|cook| (cook.name.clone(), cook.present.clone())).collect();
    let text = rangewright(&["plan", file, "--work", "1500"], &world);
    assert_eq!(text.exit, Exit::Planned, "{}", text.err);
    Ok(judge(&problem, &said, &present))
}

#[test]
fn the_examples_can_be_cooked_as_their_sheets_say() {
    for example in examples::ALL {
        let folder = tempfile::tempdir().expect("a folder");
        fs::write(folder.path().join(example.menu_name), example.menu).expect("a file");
        let kitchen = |name: &str| {
            let text = example.kitchen_text(name)?;
            fs::write(folder.path().join(name), &text).map_err(|error| error.to_string())?;
            Ok(text)
        };
        let planner = Planner::read(example.menu, example.menu_name, kitchen).expect("no faults");
        match judged(folder.path(), example.menu_name, &planner) {
            Ok(said) => assert_eq!(said, Vec::<String>::new(), "{}", example.menu_name),
            Err(other) => assert!(other.starts_with("Impossible"), "{}: {other}", example.menu_name),
        }
    }
}

#[test]
fn random_menus_can_be_cooked_as_their_sheets_say() {
    let count = std::env::var("RANGEWRIGHT_MENUS").ok().and_then(|count| count.parse().ok()).unwrap_or(MENUS);
    let folder = tempfile::tempdir().expect("a folder");
    let (mut planned, mut wrong, mut other) = (0, Vec::new(), Vec::new());
    for seed in 1..=count {
        let text = menu(seed);
        fs::write(folder.path().join("evening.menu.ron"), &text).expect("a file");
        let planner = match Planner::read(&text, "evening.menu.ron", |_| Err("none".to_owned())) {
            Ok(planner) => planner,
            Err(faults) => {
                wrong.push(format!("{seed}: {faults}"));
                continue;
            }
        };
        match judged(folder.path(), "evening.menu.ron", &planner) {
            Ok(said) => {
                planned += 1;
                wrong.extend(said.into_iter().map(|said| format!("{seed}: {said}")));
            }
            // An oven that is too small for a day is no fault of ours.
            Err(said) if said.starts_with("Impossible") || said.starts_with("Undecided") => other.push(seed),
            Err(said) => wrong.push(format!("{seed}: {said}")),
        }
    }
    println!("{planned} of {count} menus were planned; not planned: {other:?}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(planned * 2 >= count, "only {planned} of {count} menus were planned; not: {other:?}");
}

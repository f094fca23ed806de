//! A saved plan comes out as it went in: in every format, to the byte, and only of its own menu.

use std::fs;
use std::path::{Path, PathBuf};

use rangewright_cli::{Exit, SheetFormat};
use rangewright_tests::command::{Answer, World, rangewright};
use serde_json::Value;

const FORMATS: &str = "text,html,svg,markdown,ical,csv,jobs,json";
const SMALL: &str = "../../tests/data/kitchens/instances/small-1.json";

fn run(args: &[&str]) -> Answer {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/examples");
    rangewright(args, &World { folder: Some(&folder), ..World::default() })
}

/// Every file of a folder, by name.
fn files(folder: &Path) -> Vec<(String, String)> {
    let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("a file").path());
    let mut files: Vec<(String, String)> = entries
        .map(|path| {
            let name = path.file_name().map(|name| name.to_string_lossy().into_owned());
            (name.expect("a name"), fs::read_to_string(path).expect("a text"))
        })
        .collect();
    files.sort();
    files
}

#[test]
fn a_saved_plan_is_shown_as_it_was_planned() {
    assert_eq!(FORMATS.split(',').count(), SheetFormat::ALL.len());
    for (menu, planning, looks) in [
        ("supper.menu.ron", "--work|20000", ""),
        ("supper.menu.ron", "--work|20000|--calm|0", "--units|f|--clock|12|--ascii|--width|60"),
        ("supper.menu.ron", "--work|20000|--confidence|95|--within|3", "--paper|cooks|--size|a5"),
        ("supper.menu.ron", "--work|20000|--spare-hands|25%", "--region|uk|--all-alarms|--byte-order-mark"),
        ("thirty.menu.ron", "--work|2000", ""),
        (SMALL, "--work|20000", "--date|2026-11-14|--zone|Europe/London"),
    ] {
        let home = tempfile::tempdir().expect("a folder");
        let [planned, shown] = ["planned", "shown"].map(|name| home.path().join(name));
        let parts = |text: &'static str| text.split('|').filter(|part| !part.is_empty());
        let out = |folder: &Path| folder.to_string_lossy().into_owned();
        let (first, second) = (out(&planned), out(&shown));
        let common: Vec<&str> = ["--format", FORMATS].into_iter().chain(parts(looks)).collect();
        let planning: Vec<&str> = ["plan", menu, "--out", &first].into_iter().chain(parts(planning)).collect();
        let answer = run(&[planning, common.clone()].concat());
        assert_eq!(answer.exit, Exit::Planned, "{}", answer.err);
        let saved = planned.join("plan.json").to_string_lossy().into_owned();
        let answer = run(&[&["show", &saved, "--menu", menu, "--out", &second], &common[..]].concat());
        assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""), "{menu}");
        let (planned, shown) = (files(&planned), files(&shown));
        assert_eq!(planned.len(), SheetFormat::ALL.len());
        for (one, other) in planned.iter().zip(&shown) {
            assert!(
                one == other,
                "{menu} {planning:?}: {} differs",
                one.0,
                planning = parts(looks).collect::<Vec<_>>()
            );
        }
    }
}

#[test]
fn a_bare_plan_is_shown_as_well_and_the_menu_may_be_the_built_in_one() {
    let home = tempfile::tempdir().expect("a folder");
    let file = |name: &str, text: &str| {
        let path = home.path().join(name);
        fs::write(&path, text).expect("a file");
        path.to_string_lossy().into_owned()
    };
    let planned = run(&["plan", "--work", "2000", "--format", "json"]);
    let text = run(&["plan", "--work", "2000"]).out;
    let saved = file("saved.json", &planned.out);
    assert_eq!(run(&["show", &saved]).out, text);
    // Without what stood beside it, the minutes are the same.
    let answer: Value = serde_json::from_str(&planned.out).expect("JSON");
    let bare = file("bare.json", &answer["plan"].to_string());
    let shown = run(&["show", &bare, "--format", "json"]);
    let shown: Value = serde_json::from_str(&shown.out).expect("JSON");
    assert_eq!((&shown["plan"], &shown["odds"]), (&answer["plan"], &answer["odds"]));
    assert_eq!(shown["schedule"], answer["schedule"]);
}

#[test]
fn a_plan_of_another_menu_is_refused_with_what_is_wrong() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../models/examples");
    let file = |name: &str, text: &str| {
        let path = home.path().join(name);
        fs::write(&path, text).expect("a file");
        path.to_string_lossy().into_owned()
    };
    let planned = run(&["plan", "supper.menu.ron", "--work", "20000", "--format", "json"]);
    let saved = file("saved.json", &planned.out);
    let answer = run(&["show", &saved]);
    assert_eq!(answer.exit, Exit::BadInput);
    assert!(answer.err.contains("a plan of another menu") && answer.err.contains("--menu"), "{}", answer.err);
    // A minute that the menu does not allow: the rule is named, and nothing is printed.
    let mut broken: Value = serde_json::from_str(&planned.out).expect("JSON");
    let rest = broken.pointer_mut("/plan/steps/baked-celeriac~1rest").expect("a step");
    rest["end"] = (rest["start"].as_i64().expect("a minute") + 1).into();
    let answer = run(&["show", &file("broken.json", &broken.to_string()), "--menu", "supper.menu.ron"]);
    assert_eq!((answer.exit, answer.out.as_str()), (Exit::BadInput, ""));
    assert!(answer.err.contains("breaks") && answer.err.contains("takes 1 min instead of"), "{}", answer.err);
    // The menu was changed in what does not touch the plan: it is shown, and that is said.
    let menu = fs::read_to_string(folder.join("supper.menu.ron")).expect("a menu");
    fs::copy(folder.join("shed.kitchen.ron"), home.path().join("shed.kitchen.ron")).expect("a file");
    let changed = file("changed.menu.ron", &menu.replace("180 C", "170 C"));
    let answer = run(&["show", &saved, "--menu", &changed]);
    assert_eq!(answer.exit, Exit::Planned, "{}", answer.err);
    assert!(answer.err.contains("has been changed since") && answer.out.contains("170"), "{}", answer.err);
    // Where data is asked for, a refusal is data.
    let answer = run(&["show", &saved, "--format", "json"]);
    let told: Value = serde_json::from_str(&answer.out).expect("JSON");
    assert_eq!((&told["command"], &told["outcome"]), (&"show".into(), &"error".into()));
    assert_eq!(super::schema::faults(&super::schema::validator(), &told), Vec::<String>::new());
}

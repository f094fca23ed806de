//! Room in the plans of menus, and plans that stay as people have them.

use std::path::Path;

use rangewright_tests::command::{World, rangewright};
use serde_json::Value;

const SUPPER: &str = "../models/examples/supper.menu.ron";
const PORCH: &str = "../models/examples/porch.menu.ron";

fn plan(menu: &str, more: &[&str]) -> Value {
    let answer =
        rangewright(&[&["plan", menu, "--format", "json", "--work", "20000"], more].concat(), &World::default());
    assert_eq!(answer.err, "");
    serde_json::from_str(&answer.out).expect("JSON")
}

fn saved(folder: &Path, plan: &Value) -> String {
    let path = folder.join("saved.json");
    std::fs::write(&path, plan.to_string()).expect("written");
    path.to_string_lossy().into_owned()
}

#[test]
fn menus_have_room_and_other_programs_ask_for_it() {
    let [with, without] = [plan(SUPPER, &[]), plan(SUPPER, &["--calm", "0"])];
    for answer in [&with, &without] {
        let [before, after] =
            ["without", "with"].map(|own| answer["calm"]["courses"][0][own].as_u64().expect("a number"));
        assert!(before < after, "{before} {after}");
        assert!(answer["calm"]["percent"].as_i64().is_some_and(|percent| percent <= 5), "{}", answer["calm"]);
    }
    assert_eq!(without["calm"]["waiting"].as_i64().map(|waiting| waiting <= 0), Some(true));
    let problem = "data/kitchens/instances/tiny0104.json";
    assert!(plan(problem, &[]).get("calm").is_none(), "a bare problem is planned by its three goals");
}

#[test]
fn a_plan_that_people_have_stays_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    for menu in [SUPPER, PORCH] {
        let first = plan(menu, &[]);
        let start = saved(folder.path(), &first);
        for more in [&["--start", &start, "--work", "0"][..], &["--start", &start]] {
            let again = rangewright(&[&["plan", menu, "--format", "json"], more].concat(), &World::default());
            let again: Value = serde_json::from_str(&again.out).expect("JSON");
            for part in ["steps", "served"] {
                assert_eq!(again["plan"][part], first["plan"][part], "{menu} {more:?}");
            }
        }
    }
}

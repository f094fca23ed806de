//! Menus that were written to hurt people, each with the verdict expected.

use std::fs;
use std::path::PathBuf;

use rangewright::models::caution::{Weight, of_plan};
use rangewright::models::{compile, hazard};
use rangewright::{Limits, Outcome};
use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("data/hazards")
}

#[test]
fn each_has_its_verdict() {
    let table = fs::read_to_string(folder().join("expected.csv")).expect("the table");
    let mut wrong = Vec::new();
    for line in table.lines().skip(1) {
        let mut cells = line.split(',');
        let (name, verdict) = (cells.next().expect("a name"), cells.next().expect("a verdict"));
        let menu = fs::read_to_string(folder().join(format!("{name}.menu.ron"))).expect("the menu");
        let read = compile::feast(&menu, name, |kitchen| {
            fs::read_to_string(folder().join(kitchen)).map_err(|e| e.to_string())
        });
        let compiled = read.unwrap_or_else(|faults| panic!("{name}:\n{faults}"));
        let (problem, labels) = (&compiled.problem, &compiled.labels);
        let found = hazard::of_menu(problem, labels);
        let worst = found.iter().map(|(caution, _)| caution.weight).max();
        let wanted = if verdict == "breach" { Weight::Breach } else { Weight::Caution };
        if worst.is_none_or(|worst| worst < wanted) {
            wrong.push(format!("{name}: {worst:?}, {found:#?}"));
        }
        let path = folder().join(format!("{name}.menu.ron"));
        let answer = rangewright(&["check", path.to_str().expect("a path")], &World::default());
        let exit = if verdict == "breach" { Exit::Impossible } else { Exit::Planned };
        if answer.exit != exit || (verdict == "breach") != answer.out.contains("LIMIT BROKEN") {
            wrong.push(format!("check {name}: {:?} {}{}", answer.exit, answer.out, answer.err));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The plan itself says it, whichever way was chosen; where there is none, that is as good.
#[test]
fn each_plan_says_it() {
    let table = fs::read_to_string(folder().join("expected.csv")).expect("the table");
    let mut wrong = Vec::new();
    for line in table.lines().skip(1) {
        let name = line.split(',').next().expect("a name");
        let wanted = if line.contains(",breach,") { Weight::Breach } else { Weight::Caution };
        let menu = fs::read_to_string(folder().join(format!("{name}.menu.ron"))).expect("the menu");
        let read = compile::feast(&menu, name, |kitchen| {
            fs::read_to_string(folder().join(kitchen)).map_err(|e| e.to_string())
        });
        let compiled = read.unwrap_or_else(|faults| panic!("{name}:\n{faults}"));
        let outcome = rangewright::solve(&compiled.problem, &Limits { work: Some(60_000), ..Limits::default() })
            .expect("a legal problem");
        let Outcome::Planned(planned) = outcome else { continue };
        let found = of_plan(&compiled.problem, &compiled.labels, &planned.plan);
        if found.iter().all(|own| own.caution.weight < wanted) {
            wrong.push(format!("{name}: {found:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

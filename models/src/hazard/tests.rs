//! Menus that were written to hurt people, and the shipped examples, which hurt nobody.

use crate::caution::Weight;
use crate::{compile, examples};

#[test]
fn written_menus_have_their_verdicts() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/data/hazards");
    let read = |name: &str| std::fs::read_to_string(folder.join(name)).map_err(|error| error.to_string());
    let table = read("expected.csv").expect("the table");
    let mut wrong = Vec::new();
    for line in table.lines().skip(1) {
        let mut cells = line.split(',');
        let (name, verdict) = (cells.next().expect("a name"), cells.next().expect("a verdict"));
        let menu = read(&format!("{name}.menu.ron")).expect("the menu");
        let compiled = match compile::feast(&menu, name, read) {
            Ok(compiled) => compiled,
            Err(faults) => {
                wrong.push(format!("{name}: {faults}"));
                continue;
            }
        };
        let found = super::of_menu(&compiled.problem, &compiled.labels);
        let worst = found.iter().map(|(caution, _)| caution.weight).max();
        let wanted = if verdict == "breach" { Weight::Breach } else { Weight::Caution };
        if worst != Some(wanted) {
            wrong.push(format!("{name}: {worst:?}, {found:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn the_examples_break_nothing() {
    for example in examples::ALL {
        let read = compile::feast(example.menu, example.menu_name, |name| example.kitchen_text(name));
        let compiled = read.unwrap_or_else(|faults| panic!("{}:\n{faults}", example.name));
        assert_eq!(super::broken(&compiled.problem, &compiled.labels), [], "{}", example.name);
    }
}

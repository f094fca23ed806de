//! Menus that were written to hurt people, and the shipped examples, which hurt nobody.

mod hostile;
mod own;

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

/// What is found among guests with such diets, in a plain kitchen.
fn of_table(diets: &str, dishes: &str) -> String {
    let menu = format!(
        "(name: \"H\", kitchen: (places: [Burners(\"burner\", 4)]), guests: 8, diets: {{{diets}}}, date: \"2026-12-24\", \
         zone: \"Europe/London\", serve: \"18:00\", dishes: [{dishes}])"
    );
    match compile::feast(&menu, "menu", |_| Err("none".to_owned())) {
        Ok(compiled) => format!("{:#?}", super::of_menu(&compiled.problem, &compiled.labels)),
        Err(faults) => faults.to_string(),
    }
}

/// The worst that a menu cannot avoid in such a kitchen, and what is said of it.
fn worst(kitchen: &str, dishes: &str) -> (Option<Weight>, String) {
    let shifts: Vec<String> = (2..8).rev().map(|day| format!("\"{day} days before 8:00 to 22:00\"")).collect();
    let menu = format!(
        "(name: \"H\", kitchen: ({kitchen} places: [Oven(name: \"oven\", inside: \"44 x 38 x 34 cm\", range: \"40 to 250 C\"), \
         Burners(\"burner\", 4)], pools: {{\"board\": 1, \"big bowl\": 1}}, cooks: [(name: \"Ines\", shifts: [{}, \"day before 8:00 to 22:00\", \
         \"7:00 to 22:00\"])]), guests: 8, date: \"2026-12-24\", zone: \"Europe/London\", serve: \"18:00\", dishes: [{dishes}])",
        shifts.join(", ")
    );
    let compiled = match compile::feast(&menu, "menu", |_| Err("none".to_owned())) {
        Ok(compiled) => compiled,
        Err(faults) => return (None, faults.to_string()),
    };
    let found = super::of_menu(&compiled.problem, &compiled.labels);
    (found.iter().map(|(own, _)| own.weight).max(), format!("{found:#?}"))
}

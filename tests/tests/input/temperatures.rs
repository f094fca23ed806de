//! Temperatures: as they are written, so they come back, on the dial too.

use rangewright::models::compile::{Compiled, compile};
use rangewright::models::schedule::schedule;
use rangewright::models::units::Units;
use rangewright::models::{problem::Mode, read};
use rangewright::{Limits, Outcome};

const OVEN: &str = r#"Oven(name: "oven", inside: "44 x 38 x 32 cm", racks: 2, range: "50 to 300 C", heats: [static])"#;

fn compiled(dishes: &str) -> Compiled {
    let menu = format!(
        "(name: \"Test\", kitchen: (places: [{OVEN}]), guests: 6, date: \"2026-11-08\", zone: \"Europe/London\",
          serve: \"19:00\", dishes: [{dishes}])"
    );
    let feast = read::feast(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
    compile(&feast).unwrap_or_else(|faults| panic!("{faults}"))
}

fn bake(name: &str, at: &str, takes: &str) -> String {
    format!("Dish(\"{name}\", [Bake(at: \"{at}\", takes: \"{takes}\", pan: \"40 x 30 x 8 cm\", weight: \"2 kg\")])")
}

/// What the dial is set to in a plan, in order, off left out.
fn dial(compiled: &Compiled) -> Vec<i64> {
    let Ok(Outcome::Planned(planned)) = rangewright::solve(&compiled.problem, &Limits::default()) else {
        panic!("a plan is possible")
    };
    let day = schedule(&compiled.problem, &planned.plan);
    day.cavities[0].settings.iter().filter_map(|setting| setting.degrees).collect()
}

#[test]
fn a_temperature_written_comes_back_as_written() {
    let celsius = (60..=290).map(|t| format!("{t} C"));
    let fahrenheit = (140..=550).map(|t| format!("{t} F"));
    let gas = ["1/4", "1/2", "1", "2", "3", "4", "5", "6", "7", "8", "9"].map(|mark| format!("gas {mark}"));
    for text in celsius.chain(fahrenheit).chain(gas) {
        let whole = compiled(&bake("Crumble", &text, "40 min"));
        let words = &whole.labels.steps["crumble/bake"].modes[0];
        let asked = words.asked.expect("it is a single one");
        assert_eq!(asked.to_string(), text);
        assert_eq!(whole.labels.units.exactly(asked), text, "a menu shows the units it is written in");
        let [low, high] = whole.problem.steps[0].modes[0].t.expect("it is in an oven");
        assert_eq!((low + high, high - low), (2 * asked.whole(), 10), "{text}");
    }
}

#[test]
fn the_dial_shows_what_was_asked_for() {
    for (text, degrees) in [("183 C", 183), ("325 F", 163), ("350 F", 177), ("gas 7", 218), ("220 C", 220)] {
        assert_eq!(dial(&compiled(&bake("Crumble", text, "40 min"))), [degrees], "{text}");
    }
}

/// Two that meet in one window share the oven between what they ask for; two that follow each other get each its own.
#[test]
fn the_dial_is_moved_only_where_something_else_forbids_it() {
    let both = format!("{}, {}", bake("Crumble", "190 C", "40 min"), bake("Gratin", "180 C", "40 min"));
    assert_eq!(dial(&compiled(&both)), [185]);
    let apart = r#"Dish("Rolls", [Bake(at: "220 C", takes: "20 min", pan: "40 x 30 x 8 cm"), Rest(takes: "60 min"),
        Reheat(at: "212 C", takes: "10 min", pan: "40 x 30 x 8 cm", gap: "0 min")])"#;
    assert_eq!(dial(&compiled(apart)), [220, 212]);
}

#[test]
fn any_single_temperature_is_accepted() {
    let joint = |accepts: &str| {
        let dish = format!(
            "Dish(\"Loin\", [Joint(meat: pork, cut: loin, weight: \"2 kg\", thickness: \"9 cm\", to: \"150 F\",
              accepts: \"{accepts}\", pan: \"40 x 30 x 14 cm\")])"
        );
        let whole = compiled(&dish);
        let asked = whole.labels.steps["loin/roast"].modes.iter().map(|words| words.asked.expect("one").to_string());
        asked.collect::<Vec<_>>().join(", ")
    };
    for single in ["300 F", "325 F", "163 C", "180 C", "gas 3"] {
        assert_eq!(joint(single), single);
    }
    assert_eq!(joint("145 to 170 C"), "145 C, 150 C, 160 C, 170 C");
    assert_eq!(joint("300 to 350 F"), "300 F, 325 F, 350 F");
    assert_eq!(joint("gas 2 to gas 4"), "gas 2, gas 3, gas 4");
}

/// Five degrees away cost half of what ten do.
#[test]
fn a_preference_counts_where_only_five_degrees_lie_between() {
    let whole = compiled(
        "Dish(\"Crumble\", [Bake(at: \"175 C\", takes: \"50 min\", accepts: \"170 to 180 C\", pan: \"36 x 26 x 8 cm\")])",
    );
    let cost = |mode: &Mode| (mode.t, mode.cost);
    let costs: Vec<_> = whole.problem.steps[0].modes.iter().map(cost).collect();
    // No window reaches past what is accepted.
    assert_eq!(costs, [(Some([170, 175]), 2), (Some([170, 180]), 0), (Some([175, 180]), 2)]);
}

#[test]
fn the_units_are_those_that_are_written_unless_it_says_others() {
    let units = |at: &str| compiled(&bake("Crumble", at, "40 min")).labels.units;
    assert_eq!(["180 C", "350 F", "gas 4"].map(units), [Units::Metric, Units::Customary, Units::Gas]);
}

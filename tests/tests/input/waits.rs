//! Where food stands between two jobs is told, and what is chilled is fetched when it is needed.

use rangewright_cli::Exit;
use rangewright_tests::command::{World, rangewright};

fn planned(steps: &str, format: &str) -> String {
    let menu = format!(
        r#"Menu(name: "Terrine", kitchen: Kitchen(places: [Oven("oven", "46 x 40 x 36 cm"), Burners("burner", 2)], fridge_shelves: 1),
            date: "2026-11-08", zone: "Europe/London", serve: "19:00", opens: "8:00", cooks: [Cook("Ines", ["8:00 to 20:00"])],
            dishes: [Dish(name: "Terrine", contains: [fish], steps: [{steps}])])"#
    );
    let world = World { stdin: menu.as_bytes(), ..World::default() };
    let answer = rangewright(&["plan", "-", "--work", "20000", "--format", format], &world);
    assert_eq!((answer.exit, answer.err.as_str()), (Exit::Planned, ""));
    answer.out
}

#[test]
fn what_is_chilled_stays_cold_until_a_job_takes_it_out() {
    // Chilled for two hours and no longer, by noon: then it waits for the evening.
    let steps = r#"Poach("Poach the fish", "20 min"), Chill(do: "Chill it", takes: "2 h", by: "12:00"), Plate("Slice it", "10 min")"#;
    let text = planned(steps, "text").replace("\n         ", " ");
    for part in ["It stays in the refrigerator until 18:45", "Slice it (10 min) Take it out of the refrigerator first"]
    {
        assert!(text.contains(part), "{part}: {text}");
    }
    let answer: serde_json::Value = serde_json::from_str(&planned(steps, "json")).expect("JSON");
    let stands = &answer["stands"][0];
    assert_eq!((stands["step"].as_str(), stands["where"].as_str()), (Some("terrine/chill"), Some("refrigerator")));
    assert_eq!(stands["until"].as_i64(), Some(18 * 60 + 45));
}

/// A shelf that is taken while food waits is not there for other food: said, it counts, and the plan cannot be made.
#[test]
fn a_shelf_is_taken_for_as_long_as_food_waits_on_it() {
    let two = |waits: &str| {
        format!(
            r#"Prep(do: "Cure one half", takes: "10 min", by: "12:00"{waits}, id: "one"), Chill(do: "Chill the other", takes: "3 h", by: "18:00", from: "13:00", after: [], id: "two"),
            Dress(do: "Put them together", takes: "5 min", from: "18:30", after: ["one", "two"])"#
        )
    };
    assert!(planned(&two(""), "text").contains("SERVE"));
    let menu = two(", waits: fridge");
    let menu = format!(
        r#"Menu(name: "T", kitchen: Kitchen(places: [Burners("burner", 2)], fridge_shelves: 1), date: "2026-11-08", zone: "Europe/London",
            serve: "19:00", opens: "8:00", cooks: [Cook("Ines", ["8:00 to 20:00"])], dishes: [Dish(name: "T", contains: [fish], steps: [{menu}])])"#
    );
    let world = World { stdin: menu.as_bytes(), ..World::default() };
    let answer = rangewright(&["plan", "-", "--work", "20000"], &world);
    assert_eq!(answer.exit, Exit::Impossible, "{}{}", answer.out, answer.err);
}

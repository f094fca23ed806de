//! A hazard at a time: what breaks it, and what just does not.

use rangewright::models::caution::Weight;
use rangewright::models::{compile, hazard};

/// The worst that a menu cannot avoid, and what is said of it.
fn worst(kitchen: &str, dishes: &str) -> (Option<Weight>, String) {
    let menu = format!(
        "(name: \"H\", kitchen: ({kitchen} places: [Oven(name: \"oven\", inside: \"44 x 38 x 34 cm\", range: \"40 to 250 C\"), \
         Burners(\"burner\", 4)], cooks: [(name: \"Ines\", shifts: [\"2 days before 8:00 to 22:00\", \"day before 8:00 to 22:00\", \
         \"7:00 to 22:00\"])]), guests: 8, date: \"2026-12-24\", zone: \"Europe/London\", serve: \"18:00\", dishes: [{dishes}])"
    );
    let compiled =
        compile::feast(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"));
    let found = hazard::of_menu(&compiled.problem, &compiled.labels);
    (found.iter().map(|(own, _)| own.weight).max(), format!("{found:#?}"))
}

/// Each with the kitchen, the dishes and the worst verdict.
const CASES: &[(&str, &str, &str, Option<Weight>)] = &[
    (
        "an oven colder than the centre",
        "",
        r#"Dish("Pork belly", [Roast(at: "60 C", takes: "8 h", pan: "30 x 25 x 10 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "no word but the name",
        "",
        r#"Dish("Duck legs", [Braise(at: "65 C", takes: "5 h", pan: "30 x 25 x 10 cm")])"#,
        Some(Weight::Breach),
    ),
    ("just hot enough", "", r#"Dish("Duck legs", [Braise(at: "120 C", takes: "3 h", pan: "30 x 25 x 10 cm")])"#, None),
    (
        "reheated too cool",
        "",
        r#"Dish("Beef stew", [Simmer(takes: "2 h", pan: "24 cm"), Chill(takes: "2 h", depth: "25 mm"), Reheat(at: "60 C", takes: "1 h", pan: "30 x 25 x 10 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "reheated hot",
        "",
        r#"Dish("Beef stew", [Simmer(takes: "2 h", pan: "24 cm"), Chill(takes: "2 h", depth: "25 mm"), Reheat(takes: "20 min", pan: "24 cm")])"#,
        None,
    ),
    (
        "a bird in a cool oven",
        "",
        r#"Dish("Goose", [Roast(at: "150 C", takes: "4 h", pan: "40 x 30 x 20 cm")])"#,
        Some(Weight::Breach),
    ),
    ("a bird in a hot one", "", r#"Dish("Goose", [Roast(at: "165 C", takes: "3 h", pan: "40 x 30 x 20 cm")])"#, None),
    (
        "a whole cut may go low",
        "",
        r#"Dish("Leg of mutton", [Roast(at: "130 C", takes: "4 h", pan: "40 x 30 x 20 cm")])"#,
        None,
    ),
    (
        "a rolled one may not",
        "",
        r#"Dish("Rolled mutton shoulder", [Roast(at: "130 C", takes: "4 h", pan: "40 x 30 x 20 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "cooked meat that keeps, they say",
        "",
        r#"Dish("Mutton stew", [Simmer(takes: "2 h", pan: "24 cm", keeps: free, by: "14:00"), Plate(takes: "5 min")])"#,
        Some(Weight::Breach),
    ),
    (
        "and just in time",
        "",
        r#"Dish("Mutton stew", [Simmer(takes: "2 h", pan: "24 cm", keeps: free, by: "16:05"), Plate(takes: "5 min")])"#,
        None,
    ),
    (
        "four hours in a licensed kitchen",
        "licensed: true,",
        r#"Dish("Mutton stew", [Simmer(takes: "2 h", pan: "24 cm", keeps: free, by: "14:10"), Plate(takes: "5 min")])"#,
        Some(Weight::Caution),
    ),
    (
        "one hour in great heat",
        "room: \"35 C\",",
        r#"Dish("Mutton stew", [Simmer(takes: "2 h", pan: "24 cm", keeps: free, by: "16:30"), Plate(takes: "5 min")])"#,
        Some(Weight::Breach),
    ),
    (
        "thawed on the counter",
        "",
        r#"Dish("Turkey", [Step(kind: "thaw", do: "Thaw the turkey on the kitchen counter", takes: "12 h"), Roast(at: "180 C", takes: "3 h", pan: "40 x 30 x 20 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "thawed in the cold",
        "",
        r#"Dish("Turkey", [Step(kind: "thaw", do: "Thaw the turkey", takes: "12 h"), Roast(at: "180 C", takes: "3 h", pan: "40 x 30 x 20 cm")])"#,
        None,
    ),
    (
        "beans that never boil",
        "",
        r#"Dish("Kidney bean pot", [Soak(takes: "8 h"), Braise(at: "95 C", takes: "6 h", pan: "30 x 25 x 14 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "beans that do",
        "",
        r#"Dish("Kidney bean pot", [Soak(takes: "8 h"), Boil(takes: "15 min", pan: "24 cm"), Simmer(takes: "2 h", pan: "24 cm")])"#,
        None,
    ),
    (
        "beans from a tin",
        "",
        r#"Dish("Kidney bean pot", [Prep("Open the tins of beans", "5 min"), Simmer(takes: "1 h", pan: "24 cm")])"#,
        None,
    ),
    (
        "frozen into fat",
        "",
        r#"Dish("Fried chicken", [Fry("Fry the frozen drumsticks in hot oil", "20 min")])"#,
        Some(Weight::Breach),
    ),
    ("thawed into fat", "", r#"Dish("Fried chicken", [Fry("Fry the thawed drumsticks in hot oil", "20 min")])"#, None),
    (
        "coals indoors",
        "",
        r#"Dish("Corn", [Prep("Light the charcoal brazier in the hall", "10 min"), Grill(do: "Grill the corn", at: "220 C", takes: "10 min", place: "oven", heat: fan, pan: "30 x 25 x 3 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "coals outdoors",
        "",
        r#"Dish("Corn", [Prep("Light the charcoal brazier in the garden", "10 min"), Boil(takes: "10 min", pan: "24 cm")])"#,
        None,
    ),
    (
        "a day in ice",
        "",
        r#"Dish("Potted crab", [Chill(do: "Keep the crab in a cool box with ice", takes: "24 h"), Plate(takes: "5 min")])"#,
        Some(Weight::Breach),
    ),
    (
        "steamed rice",
        "",
        r#"Dish("Rice", [Step(kind: "steam", do: "Steam the rice", takes: "20 min", keeps: hot), Plate(takes: "5 min")])"#,
        None,
    ),
    (
        "cooked ham",
        "",
        r#"Dish("Baked ham", [Bake(do: "Warm the cooked ham through", at: "160 C", takes: "60 min", pan: "30 x 25 x 14 cm"), Carve(takes: "5 min")])"#,
        None,
    ),
    (
        "a tart",
        "",
        r#"Dish("Egg tart", [Prep(takes: "20 min"), Bake(at: "180 C", takes: "40 min", pan: "30 x 30 x 6 cm", by: "14:00"), Plate(takes: "5 min")])"#,
        None,
    ),
];

#[test]
fn what_breaks_and_what_just_does_not() {
    let mut wrong = Vec::new();
    for (name, kitchen, dishes, verdict) in CASES {
        let (worst, said) = worst(kitchen, dishes);
        if worst != *verdict {
            wrong.push(format!("{name}: {worst:?} {said}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

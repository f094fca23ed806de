//! A hazard at a time: what breaks it, and what just does not.

use super::worst;
use crate::caution::Weight;

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
    (
        "a day in ice, renewed or not long",
        "",
        r#"Dish("Potted crab", [Chill(do: "Keep the cooked crab in a cool box with ice", takes: "3 h"), Plate(takes: "5 min")])"#,
        None,
    ),
    (
        "stew kept six days",
        "",
        r#"Dish("Beef stew", [Simmer(takes: "1 h", pan: "24 cm", by: "6 days before 18:00"), Chill(takes: "12 h to 7 days", depth: "20 mm"), Reheat(takes: "20 min", pan: "24 cm")])"#,
        Some(Weight::Caution),
    ),
    (
        "stew kept three days",
        "",
        r#"Dish("Beef stew", [Simmer(takes: "1 h", pan: "24 cm", by: "3 days before 18:00"), Chill(takes: "12 h to 7 days", depth: "20 mm"), Reheat(takes: "20 min", pan: "24 cm")])"#,
        None,
    ),
    (
        "a warm start",
        "",
        r#"Dish("Hen", [Joint(meat: poultry, cut: bird, weight: "2 kg", start: "18 C", to: "75 C", accepts: "165 to 180 C", pan: "30 x 25 x 14 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "from the refrigerator",
        "",
        r#"Dish("Hen", [Joint(meat: poultry, cut: bird, weight: "2 kg", start: "4 C", to: "75 C", accepts: "165 to 180 C", pan: "30 x 25 x 14 cm")])"#,
        None,
    ),
    (
        "one board, at once",
        "",
        r#"Dish("Hen strips", [Prep(do: "Cut up the hen", takes: "10 min", uses: ["board"], from: "17:20", by: "17:30"), Fry(takes: "25 min", keeps: free)]), Dish("Leaves", [Dress(takes: "10 min", uses: ["board"], from: "17:32", by: "17:45")])"#,
        Some(Weight::Breach),
    ),
    (
        "one board, the salad first",
        "",
        r#"Dish("Hen strips", [Prep(do: "Cut up the hen", takes: "10 min", uses: ["board"], from: "17:20", by: "17:30"), Fry(takes: "25 min", keeps: free)]), Dish("Leaves", [Dress(takes: "10 min", uses: ["board"], from: "16:30", by: "17:00", keeps: free)])"#,
        None,
    ),
    (
        "an allergen in one bowl",
        "",
        r#"Dish(name: "Nut cream", allergens: ["hazelnut"], steps: [Prep(takes: "10 min", by: "15:00", uses: ["big bowl"], keeps: free)]), Dish("Plain jelly", [Prep(takes: "10 min", from: "16:00", uses: ["big bowl"], keeps: free)])"#,
        Some(Weight::Caution),
    ),
    (
        "an allergen in another bowl",
        "",
        r#"Dish(name: "Nut cream", allergens: ["hazelnut"], steps: [Prep(takes: "10 min", by: "15:00", uses: ["big bowl"], keeps: free)]), Dish("Plain jelly", [Prep(takes: "10 min", from: "16:00", keeps: free)])"#,
        None,
    ),
    (
        "nobody to read the probe",
        "",
        r#"Dish("Leg of mutton", [Roast(at: "130 C", takes: "12 h", pan: "40 x 30 x 20 cm", by: "7:10", keeps: hot), Hold(at: "70 C", takes: "1 to 12 h", pan: "40 x 30 x 20 cm")])"#,
        Some(Weight::Caution),
    ),
    (
        "somebody there",
        "",
        r#"Dish("Leg of mutton", [Roast(at: "130 C", takes: "6 h", pan: "40 x 30 x 20 cm")])"#,
        None,
    ),
    (
        "marinated on the counter",
        "",
        r#"Dish("Hen", [Soak(do: "Marinate the hen on the counter", takes: "4 h"), Roast(at: "180 C", takes: "80 min", pan: "30 x 25 x 14 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "marinated in the cold",
        "",
        r#"Dish("Hen", [Soak(do: "Marinate the hen", takes: "4 h"), Roast(at: "180 C", takes: "80 min", pan: "30 x 25 x 14 cm")])"#,
        None,
    ),
    (
        "a big pot left to cool",
        "",
        r#"Dish("Beef soup", [Simmer(takes: "2 h", pan: "24 cm", by: "day before 20:00"), Step(kind: "stand", do: "Leave the pot to cool", takes: "10 to 14 h"), Reheat(takes: "20 min", pan: "24 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "whole mutton may be pink in New Zealand",
        "region: \"NZ\",",
        r#"Dish("Leg of mutton", [Joint(meat: lamb, cut: leg, weight: "2 kg", to: "57 C", accepts: "165 to 180 C", rest: "20 min", pan: "30 x 25 x 14 cm")])"#,
        None,
    ),
    (
        "pork at 65 C by UK advice",
        "region: \"UK\",",
        r#"Dish("Leg of pork", [Joint(meat: pork, cut: leg, weight: "2 kg", to: "65 C", accepts: "165 to 180 C", rest: "20 min", pan: "30 x 25 x 14 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "pork at 70 C for two minutes by UK advice",
        "region: \"UK\",",
        r#"Dish("Leg of pork", [Joint(meat: pork, cut: leg, weight: "2 kg", to: "70 C", accepts: "165 to 180 C", rest: "20 min", pan: "30 x 25 x 14 cm")])"#,
        None,
    ),
    (
        "a bird at the chart's own 165 F",
        "",
        r#"Dish("Turkey", [Joint(meat: poultry, cut: bird, weight: "12 lb", to: "165 F", accepts: "325 to 350 F", rest: "20 to 40 min", pan: "40 x 32 x 20 cm")])"#,
        None,
    ),
    (
        "a bird a degree below it",
        "",
        r#"Dish("Turkey", [Joint(meat: poultry, cut: bird, weight: "12 lb", to: "164 F", accepts: "325 to 350 F", rest: "20 to 40 min", pan: "40 x 32 x 20 cm")])"#,
        Some(Weight::Breach),
    ),
    (
        "pork at the chart's own 145 F",
        "",
        r#"Dish("Loin of pork", [Joint(meat: pork, cut: loin, weight: "4 lb", to: "145 F", accepts: "325 to 350 F", rest: "20 to 40 min", pan: "40 x 32 x 12 cm")])"#,
        None,
    ),
    (
        "batter and potatoes in one oven",
        "",
        r#"Dish("Batter puddings", [Bake(at: "200 C", takes: "25 min", pan: "30 x 20 x 6 cm")]), Dish("Potatoes", [Bake(at: "200 C", takes: "50 min", pan: "30 x 20 x 6 cm")])"#,
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

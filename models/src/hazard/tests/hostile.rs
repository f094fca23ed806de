//! Fresh menus of what hurts people at home and in halls, written before the hazards that catch them.
//!
//! The first time they were run, some passed in silence; thirteen of thirty-one; the hazards that catch those came after them.

use super::worst;
use crate::caution::Weight::{self, Breach, Caution};

/// Each with its kitchen, its dishes and the least verdict.
const MENUS: &[(&str, &str, &str, Weight)] = &[
    (
        "confit too cool",
        "",
        r#"Dish("Confit of duck", [Braise(at: "70 C", takes: "8 h", pan: "30 x 25 x 14 cm")])"#,
        Breach,
    ),
    (
        "pork at sixty by UK advice",
        "region: \"UK\",",
        r#"Dish("Slow pork shoulder", [Roast(at: "62 C", takes: "9 h", pan: "30 x 25 x 14 cm")])"#,
        Breach,
    ),
    (
        "meat loaf too cool",
        "",
        r#"Dish("Meat loaf", [Bake(at: "68 C", takes: "4 h", pan: "30 x 25 x 14 cm")])"#,
        Breach,
    ),
    (
        "rice on the counter, then fried",
        "",
        r#"Dish("Fried rice", [Boil(do: "Boil the rice", takes: "15 min", by: "13:00", keeps: free, pan: "24 cm"), StirFry(takes: "10 min", from: "17:00")])"#,
        Breach,
    ),
    (
        "gravy held lukewarm",
        "",
        r#"Dish("Gravy", [Simmer(takes: "20 min", pan: "20 cm"), Hold(at: "50 C", takes: "3 to 4 h", pan: "30 x 25 x 14 cm")])"#,
        Breach,
    ),
    (
        "curry at sixty by UK law",
        "region: \"UK\",",
        r#"Dish("Chicken curry", [Simmer(takes: "1 h", pan: "24 cm"), Hold(at: "60 C", takes: "3 to 4 h", pan: "30 x 25 x 14 cm")])"#,
        Breach,
    ),
    (
        "a bird stuffed the night before",
        "",
        r#"Dish("Turkey", [Prep(do: "Stuff the turkey", takes: "20 min", by: "day before 20:00", keeps: cold), Roast(at: "180 C", takes: "4 h", pan: "40 x 30 x 20 cm")])"#,
        Caution,
    ),
    (
        "half cooked, then kept",
        "",
        r#"Dish("Chicken thighs", [Roast(do: "Half-cook the thighs", at: "180 C", takes: "20 min", by: "day before 18:00", pan: "30 x 25 x 10 cm"), Chill(takes: "8 to 30 h", depth: "25 mm"), Grill(takes: "15 min", at: "220 C", heat: fan, place: "oven", pan: "30 x 25 x 3 cm")])"#,
        Caution,
    ),
    (
        "garlic in oil",
        "",
        r#"Dish("Garlic oil", [Prep(do: "Put raw garlic in oil, leave it in the kitchen", takes: "10 min", by: "4 days before 18:00", keeps: free), Plate(takes: "5 min")])"#,
        Caution,
    ),
    (
        "beans in a slow cooker",
        "",
        r#"Dish("Chilli", [Step(kind: "slow-cook", do: "Cook the dried kidney beans and the mince on low", takes: "8 h")])"#,
        Breach,
    ),
    (
        "coals in a marquee",
        "",
        r#"Dish("Paella", [Prep("Light the charcoal in the marquee", "10 min"), Simmer(takes: "40 min", pan: "30 cm")])"#,
        Breach,
    ),
    (
        "raw yolks in ice cream",
        "",
        r#"Dish("Vanilla ice cream", [Beat(do: "Whisk the yolks with sugar", takes: "10 min", by: "12:00"), Step(kind: "freeze", do: "Freeze it", takes: "5 h")])"#,
        Caution,
    ),
    (
        "mousse of raw eggs",
        "",
        r#"Dish("Chocolate mousse", [Beat(do: "Fold the egg whites in", takes: "10 min", by: "14:00"), Chill(takes: "3 h"), Plate(takes: "5 min")])"#,
        Caution,
    ),
    (
        "raw minced beef",
        "",
        r#"Dish("Beef tartare", [Prep("Chop the beef", "15 min"), Plate(takes: "5 min")])"#,
        Caution,
    ),
    (
        "raw fish",
        "",
        r#"Dish("Ceviche of bream", [Prep("Slice the bream", "15 min"), Soak("In lime juice", "30 min"), Plate(takes: "5 min")])"#,
        Caution,
    ),
    (
        "raw oysters",
        "",
        r#"Dish("Oysters on ice", [Prep("Open the oysters", "30 min"), Plate(takes: "5 min")])"#,
        Caution,
    ),
    (
        "frozen turkey into the fryer",
        "",
        r#"Dish("Turkey", [DeepFry("Lower the frozen turkey into the fat", "50 min")])"#,
        Breach,
    ),
    (
        "prawns on a buffet all afternoon",
        "",
        r#"Dish("Prawn platter", [Plate(do: "Lay out the cooked prawns", takes: "20 min", by: "13:00", keeps: free), Plate("Lemon", "2 min")])"#,
        Breach,
    ),
    (
        "cream cake in great heat",
        "room: \"35 C\",",
        r#"Dish("Cream cake", [Dress(do: "Fill it with whipped cream", takes: "20 min", by: "12:00", keeps: free), Plate(takes: "5 min")])"#,
        Caution,
    ),
    (
        "lasagne warmed, not heated",
        "",
        r#"Dish("Lasagne", [Bake(at: "180 C", takes: "50 min", by: "day before 18:00", pan: "30 x 25 x 6 cm"), Chill(takes: "8 to 30 h", depth: "25 mm"), Warm(do: "Warm the lasagne", at: "60 C", takes: "1 h", pan: "30 x 25 x 6 cm")])"#,
        Breach,
    ),
    (
        "a stock pot in the refrigerator",
        "",
        r#"Dish("Chicken soup", [Simmer(takes: "3 h", pan: "28 cm", by: "day before 18:00"), Chill(takes: "12 to 30 h", depth: "25 cm"), Reheat(takes: "30 min", pan: "28 cm")])"#,
        Breach,
    ),
    (
        "raw hen for five days",
        "",
        r#"Dish("Hen", [Prep(do: "Joint the hen", takes: "20 min", by: "5 days before 12:00", keeps: cold), Roast(at: "180 C", takes: "80 min", pan: "30 x 25 x 14 cm")])"#,
        Caution,
    ),
    (
        "salmon thawed in warm water",
        "",
        r#"Dish("Salmon", [Step(kind: "thaw", do: "Thaw the salmon in warm water", takes: "5 h"), Bake(at: "180 C", takes: "20 min", pan: "30 x 25 x 6 cm")])"#,
        Breach,
    ),
    (
        "one pair of hands, hen then leaves",
        "",
        r#"Dish("Hen strips", [Prep(do: "Cut up the hen", takes: "10 min", from: "17:20", by: "17:30"), Fry(takes: "25 min", keeps: free)]), Dish("Leaves", [Dress(do: "Tear the leaves", takes: "10 min", from: "17:30", by: "17:40")])"#,
        Caution,
    ),
    (
        "a bath at fifty-eight",
        "",
        r#"Dish("Chicken breasts", [Step(kind: "sous-vide", do: "Bath at 58 C", at: "58 C", place: "oven", takes: "3 h", pan: "30 x 25 x 10 cm"), Sear(takes: "5 min")])"#,
        Breach,
    ),
    (
        "potatoes in foil, left out",
        "",
        r#"Dish("Potatoes in foil", [Bake(do: "Bake the potatoes in foil", at: "200 C", takes: "60 min", by: "day before 18:00", pan: "30 x 25 x 6 cm", keeps: free), Plate(takes: "5 min")])"#,
        Caution,
    ),
    ("brandy by the flame", "", r#"Dish("Pears", [Fry("Flambe the pears with brandy", "10 min")])"#, Caution),
    (
        "heated up twice",
        "",
        r#"Dish("Beef stew", [Simmer(takes: "2 h", pan: "24 cm", by: "2 days before 18:00"), Chill(takes: "4 to 20 h", depth: "25 mm"), Reheat(takes: "20 min", pan: "24 cm", by: "day before 18:00"), Chill(takes: "4 to 24 h", depth: "25 mm"), Reheat(takes: "20 min", pan: "24 cm")])"#,
        Caution,
    ),
    (
        "pink livers",
        "",
        r#"Dish("Chicken livers", [Sear("Sear the livers, pink inside", "4 min"), Plate(takes: "3 min")])"#,
        Caution,
    ),
    ("wild mushrooms", "", r#"Dish("Foraged mushrooms on toast", [Fry("Fry the wild mushrooms", "10 min")])"#, Caution),
    (
        "a night in the oven at ninety, nobody there",
        "",
        r#"Dish("Lamb shoulder", [Roast(at: "110 C", takes: "9 h", pan: "40 x 30 x 20 cm", from: "day before 21:30", by: "8:30"), Chill(takes: "4 to 10 h", depth: "25 mm"), Reheat(takes: "30 min", pan: "24 cm")])"#,
        Caution,
    ),
];

#[test]
fn none_passes_in_silence() {
    let mut wrong = Vec::new();
    for (name, kitchen, dishes, verdict) in MENUS {
        let (worst, said) = worst(kitchen, dishes);
        if worst.is_none_or(|worst| worst < *verdict) {
            wrong.push(format!("{name}: {worst:?} {said}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), MENUS.len(), wrong.join("\n"));
}

//! Fresh menus of what hurts people at home and in halls, written before the hazards that catch them.
//!
//! The first time they were run, some passed in silence; thirteen of thirty-one; the hazards that catch those came after them.

use super::{of_table, worst};
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
    (
        "raw sprouts",
        "region: \"UK\",",
        r#"Dish("Salad", [Prep("Toss the beansprouts and alfalfa sprouts","10 min"), Plate(takes:"3 min")])"#,
        Caution,
    ),
    (
        "raw sprouts over what was cooked",
        "region: \"UK\",",
        r#"Dish("Warm lentils", [Simmer("Simmer the lentils","30 min"), Dress("Scatter alfalfa over them","3 min")])"#,
        Caution,
    ),
    (
        "raw milk in a posset",
        "region: \"US\",",
        r#"Dish("Posset", [Beat("Whisk raw milk with lemon","10 min"), Chill(takes:"2 h"), Plate(takes:"3 min")])"#,
        Caution,
    ),
    (
        "rare burgers",
        "region: \"UK\",",
        r#"Dish("Burgers", [Fry("Fry the burgers rare, two minutes each side","4 min"), Plate(takes:"3 min")])"#,
        Caution,
    ),
    (
        "a marinade served again",
        "region: \"US\",",
        r#"Dish("Chicken skewers", [Soak("Marinate the chicken in the fridge","3 h"), Fry("Fry the skewers, basting","15 min"), Dress("Pour the leftover marinade over them as a sauce","3 min")])"#,
        Caution,
    ),
    (
        "a bird filled the night before",
        "region: \"AU\",",
        r#"Dish("Chicken", [Prep(do:"Fill the bird with breadcrumbs and sage", takes:"20 min", by:"day before 19:00", keeps: cold), Roast(at:"180 C", takes:"90 min", pan:"40 x 30 x 15 cm")])"#,
        Caution,
    ),
    (
        "browned the day before",
        "region: \"UK\",",
        r#"Dish("Coq au vin", [Sear(do:"Brown the chicken pieces", takes:"10 min", by:"day before 18:00", keeps: cold), Braise(at:"160 C", takes:"80 min", pan:"30 x 25 x 14 cm")])"#,
        Caution,
    ),
    (
        "a bath whose heat is only told",
        "region: \"US\",",
        r#"Dish("Chicken breast", [Step(kind:"sous-vide", do:"Water bath at 54 C", takes:"2 h"), Sear("Colour it","2 min")])"#,
        Breach,
    ),
    (
        "a pressure cooker",
        "region: \"US\",",
        r#"Dish("Chickpeas", [Step(kind:"pressure-cook", do:"Cook the chickpeas in the pressure cooker", takes:"40 min"), Plate(takes:"3 min")])"#,
        Caution,
    ),
    (
        "ice into hot fat",
        "region: \"UK\",",
        r#"Dish("Chips", [DeepFry("Tip the frozen chips with their ice into hot fat","10 min")])"#,
        Breach,
    ),
    (
        "water on burning fat",
        "region: \"US\",",
        r#"Dish("Fritters", [DeepFry("Fry the fritters; put out a fat fire with water","10 min")])"#,
        Breach,
    ),
    (
        "garlic poached in oil, left out",
        "region: \"US\",",
        r#"Dish("Confit garlic", [Simmer(do:"Poach garlic cloves in oil", takes:"1 h", by:"3 days before 18:00", keeps: free), Plate(takes:"2 min")])"#,
        Caution,
    ),
    (
        "a bird under the tap",
        "region: \"UK\",",
        r#"Dish("Roast chicken", [Prep("Rinse the chicken under the tap","5 min"), Roast(at:"190 C", takes:"90 min", pan:"40 x 30 x 15 cm")])"#,
        Caution,
    ),
    (
        "rhubarb leaves",
        "region: \"UK\",",
        r#"Dish("Rhubarb leaf greens", [Simmer("Cook the rhubarb leaves","10 min")])"#,
        Breach,
    ),
    (
        "raw cassava",
        "region: \"AU\",",
        r#"Dish("Cassava salad", [Prep("Grate the raw cassava","15 min"), Plate(takes:"3 min")])"#,
        Caution,
    ),
    (
        "green potatoes",
        "region: \"UK\",",
        r#"Dish("Green potatoes", [Boil("Boil the green potatoes","20 min")])"#,
        Breach,
    ),
    (
        "a water bath by another name",
        "region: \"US\",",
        r#"Dish("Chicken breast", [Step(kind:"water bath", do:"Water bath at 55 C", takes:"1 h"), Plate(takes:"3 min")])"#,
        Breach,
    ),
    (
        "a terrine that never gets there",
        "region: \"US\",",
        r#"Dish("Pork terrine", [Bake(at:"70 C", takes:"90 min", pan:"30 x 12 x 10 cm")])"#,
        Breach,
    ),
    (
        "livers left pink",
        "region: \"UK\",",
        r#"Dish("Liver parfait", [Fry("Fry the chicken livers pink","4 min"), Prep("Blend it","5 min")])"#,
        Caution,
    ),
    (
        "potatoes that have seen light",
        "region: \"UK\",",
        r#"Dish("Potatoes", [Boil("Boil the green sprouting potatoes","25 min")])"#,
        Breach,
    ),
    ("raw taro", "region: \"US\",", r#"Dish("Taro salad", [Prep("Grate raw taro","10 min")])"#, Caution),
    (
        "raw dough",
        "region: \"US\",",
        r#"Dish("Raw cookie dough", [Prep("Stir flour, butter and sugar","15 min"), Plate(takes:"3 min")])"#,
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

/// What sounds like it and hurts nobody: each just does not break a limit that is broken above.
const CONTROLS: &[&str] = &[
    r#"Dish("Pilaf", [Boil("Boil the rice","18 min"), Dress("Fork in herbs","2 min")])"#,
    r#"Dish("Brussels sprouts", [Steam("Steam the sprouts","8 min")])"#,
    r#"Dish("Greens", [StirFry("Stir-fry the bean sprouts","6 min")])"#,
    r#"Dish("Chilli of beans", [Simmer("Warm the tinned kidney beans","30 min")])"#,
    r#"Dish("Beans", [Soak("Soak the dried kidney beans in fresh water","10 h"), Boil("Boil the beans hard","15 min"), Simmer("Simmer the beans","1 h")])"#,
    r#"Dish("Honey pears", [Bake(do:"Bake pears with honey", at:"180 C", takes:"40 min", pan:"30 x 25 x 5 cm")])"#,
    r#"Dish("Egg custard tart", [Bake(at:"170 C", takes:"40 min", pan:"30 x 25 x 5 cm")])"#,
    r#"Dish("Baked salmon", [Bake(at:"180 C", takes:"25 min", pan:"30 x 25 x 5 cm")])"#,
    r#"Dish("Smoked salmon blinis", [Plate("Lay bought smoked salmon on blinis","15 min")])"#,
    r#"Dish("Beetroot burgers", [Fry("Fry the beetroot burgers","8 min")])"#,
    r#"Dish("Oyster mushrooms", [Fry("Fry them","8 min")])"#,
    r#"Dish("Lamb's liver", [Fry("Fry the liver through","10 min")])"#,
    r#"Dish("Beef steak", [Sear("Sear the steaks rare","6 min"), Rest("Rest","5 min")])"#,
    r#"Dish("Corn", [Prep("Light the barbecue outdoors","20 min"), Step(kind:"barbecue", do:"Turn the corn outdoors", takes:"15 min")])"#,
    r#"Dish("Rhubarb fool", [Simmer("Stew the rhubarb stalks","10 min"), Chill(takes:"2 h"), Dress("Fold in coconut cream","5 min")])"#,
    r#"Dish("Peas", [Boil("Boil the frozen peas","5 min")])"#,
    r#"Dish("Crudites", [Prep("Cut raw carrots","15 min"), Plate(takes:"3 min")])"#,
    r#"Dish("Chips", [Prep("Cut and dry the potatoes","15 min"), DeepFry("Fry the chips","15 min")])"#,
    r#"Dish("Bean sprouts", [StirFry("Stir-fry the bean sprouts", "6 min")])"#,
    r#"Dish("Junket", [Simmer("Warm raw milk to 85 C", "20 min")])"#,
    r#"Dish("Burgers", [Fry("Fry the burgers until no longer pink inside", "12 min")])"#,
    r#"Dish("Lamb skewers", [Soak("Marinate the lamb", "3 h"), Simmer("Cook the lamb", "30 min"), Dress("Pour the boiled marinade over it", "3 min")])"#,
    r#"Dish("Honey carrots", [Simmer("Glaze baby carrots with honey", "20 min")])"#,
    r#"Dish("Roast hen", [Prep("Wash your hands after the hen", "5 min"), Roast(at: "190 C", takes: "90 min", pan: "40 x 30 x 15 cm")])"#,
    r#"Dish("Cassava", [Boil("Boil the cassava", "30 min")])"#,
    r#"Dish("Rhubarb", [Simmer("Discard the rhubarb leaves, stew the stalks", "20 min")])"#,
    r#"Dish("Chips", [DeepFry("Shake off the ice, fry the chips", "15 min")])"#,
    r#"Dish("Chicken in a bath", [Step(kind: "sous-vide", do: "Bath at 76 C", takes: "90 min")])"#,
    r#"Dish("Beef in ale", [Sear("Brown the beef", "15 min"), Braise(at: "160 C", takes: "2 h", pan: "30 x 25 x 14 cm")])"#,
    r#"Dish("Barbecue chicken", [Bake(do: "Bake the thighs", at: "190 C", takes: "45 min", pan: "30 x 25 x 5 cm"), Rest("Rest", "5 min")])"#,
    r#"Dish("Duck legs", [Roast(do: "Roast them with pink peppercorns", at: "180 C", takes: "90 min", pan: "30 x 25 x 8 cm")])"#,
    r#"Dish("Taro", [Boil("Boil the taro", "40 min")])"#,
    r#"Dish("Biscuits", [Prep("Roll the cookie dough", "15 min"), Bake(at: "180 C", takes: "12 min", pan: "30 x 25 x 3 cm")])"#,
];

#[test]
fn the_innocent_stay_silent() {
    let mut wrong = Vec::new();
    for dishes in CONTROLS {
        let (worst, said) = worst("region: \"UK\",", dishes);
        if worst.is_some_and(|worst| worst >= Caution) || said.contains("error[") {
            wrong.push(format!("{dishes}: {said}"));
        }
    }
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), CONTROLS.len(), wrong.join("\n"));
}

/// What guests do not eat, in fat and water that they share, and honey among babies.
#[test]
fn diets_are_read_with_what_is_shared() {
    for (diets, dishes, said) in [
        (
            "\"no nuts\": 1",
            r#"Dish("Almond croquettes", [DeepFry("Fry the almond croquettes", "15 min")]), Dish(name: "Chips", for: "no nuts", steps: [DeepFry("Fry the chips in the same fat", "15 min")])"#,
            "shares the frying fat with",
        ),
        (
            "\"coeliac\": 1",
            r#"Dish("Wheat noodles", [Boil("Boil the noodles", "12 min")]), Dish(name: "Maize cakes", for: "coeliac", steps: [Boil("Boil them in the same water", "12 min")])"#,
            "shares the water with",
        ),
        (
            "\"babies\": 2",
            r#"Dish("Porridge with honey", [Simmer("Cook the oats", "20 min")])"#,
            "never for a child under a year",
        ),
    ] {
        let told = of_table(diets, dishes);
        assert!(told.contains(said), "{dishes}: {told}");
        let other =
            of_table(diets, &dishes.replace("same", "other").replace("honey", "syrup").replace("DeepFry", "Boil"));
        assert!(!other.contains(said), "{dishes}: {other}");
    }
}

//! Food that looks like something that calls for care, while nothing says so.

use super::{Contents, Food, tokens};
use crate::menu::{Dish, Kind};

/// Words that make a dish look like it; the first that is found is asked about.
const LOOKS: &[(Food, &[&str])] = &[
    (
        Food::Meat,
        &[
            "joint",
            "roast",
            "leg",
            "shoulder",
            "breast",
            "rump",
            "loin",
            "belly",
            "rib",
            "stew",
            "casserole",
            "curry",
            "terrine",
            "skewer",
            "cutlet",
            "chop",
            "escalope",
            "ragu",
            "chilli",
            "pie",
            "crackling",
            "drippings",
            "butcher",
            "carcass",
            "bird",
        ],
    ),
    (Food::Egg, &["sponge", "pancake", "yorkshire", "popover", "curd", "eggy", "batter", "souffle"]),
    (Food::Rice, &["paella", "sticky", "onigiri", "kheer", "pilav"]),
    (Food::Beans, &["pulses", "hummus", "falafel", "refried", "daal", "pease", "bean"]),
    (Food::Dairy, &["pudding", "fool", "syllabub", "creme", "fondue", "gratin", "alfredo", "junket"]),
];

/// With one of these in its words a dish is taken for what it says: a stew of leeks.
const PLANTS: &[&str] = &[
    "apple",
    "apricot",
    "artichoke",
    "asparagus",
    "aubergine",
    "beet",
    "beetroot",
    "berry",
    "broccoli",
    "cabbage",
    "carrot",
    "cauliflower",
    "celeriac",
    "celery",
    "cherry",
    "chestnut",
    "corn",
    "courgette",
    "cucumber",
    "damson",
    "eggplant",
    "fennel",
    "fig",
    "fruit",
    "garlic",
    "gourd",
    "herb",
    "kale",
    "leek",
    "lemon",
    "lentil",
    "marrow",
    "mushroom",
    "nut",
    "onion",
    "orange",
    "parsnip",
    "pear",
    "pea",
    "pepper",
    "plum",
    "potato",
    "potatoes",
    "pumpkin",
    "quince",
    "radish",
    "rhubarb",
    "root",
    "salad",
    "seaweed",
    "sprout",
    "squash",
    "swede",
    "sweetcorn",
    "tofu",
    "tomato",
    "tomatoes",
    "turnip",
    "vegetable",
    "walnut",
    "yam",
];

/// What a dish looks like, and the word for it, if nothing says what is in it.
pub(super) fn looks_like(dish: &Dish, contents: &Contents) -> Option<(Food, String)> {
    if !contents.foods.is_empty() || !dish.without.is_empty() {
        return None;
    }
    let titles = dish.steps.iter().filter_map(|step| step.title.as_deref());
    let bought = dish.buys.iter().map(|buy| buy.what.as_str());
    let texts: Vec<Vec<String>> = std::iter::once(dish.name.as_str()).chain(titles).chain(bought).map(tokens).collect();
    let is = |token: &str, word: &str| token == word || token.strip_suffix('s') == Some(word);
    let has = |word: &str| texts.iter().flatten().any(|token| is(token, word));
    if PLANTS.iter().any(|plant| has(plant)) || super::words::MEATLESS.iter().any(|word| has(word)) {
        return None;
    }
    let carved = dish.steps.iter().any(|step| step.kind == Kind::Carve);
    let name = super::words::alone(&dish.name);
    let found = LOOKS.iter().find_map(|(food, words)| {
        let word = words.iter().find(|word| name.iter().any(|token| is(token, word)))?;
        Some((*food, (*word).to_owned()))
    });
    found.or_else(|| carved.then(|| (Food::Meat, "carve".to_owned())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::menu::Step;

    #[test]
    fn what_looks_like_food_that_calls_for_care_is_asked_for() {
        let unknown = |name: &str| Contents::of(&Dish::new(name, vec![Step::new(Kind::Prep, 5)])).unknown;
        assert_eq!(unknown("Sunday joint of something"), None, "a joint is known to be meat");
        assert_eq!(unknown("Aunt Mo's casserole"), Some((Food::Meat, "casserole".to_owned())));
        assert_eq!(unknown("Popovers"), Some((Food::Egg, "popover".to_owned())));
        assert_eq!(unknown("Summer pudding"), Some((Food::Dairy, "pudding".to_owned())));
        assert_eq!(unknown("Leek casserole"), None);
        assert_eq!(unknown("Green beans"), None, "they are no pulses");
        assert_eq!(unknown("Chicken casserole"), None, "that is known");
        let dish = Dish { without: vec!["meat".to_owned()], ..Dish::new("Casserole", vec![Step::new(Kind::Prep, 5)]) };
        assert_eq!(Contents::of(&dish).unknown, None, "that was answered");
    }
}

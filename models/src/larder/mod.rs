//! Knowing what food is without being told: what a dish contains by its name, its jobs and its shopping, and which
//! allergens that means.
//!
//! A cook who writes `contains` is believed. Everything else is inferred from words, is shown as inferred with the word it
//! was inferred from, and is denied with `without: ["egg"]` on the dish. A word that is not in the table (`words.rs`) says
//! nothing: what is unknown is never taken for safe.

mod allergen;
mod diet;
mod food;
mod unknown;
mod words;

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::menu::{Contains, Dish, slug};

pub use allergen::Allergen;
pub use diet::{Suits, eaters, suits};
pub use food::Food;
pub(crate) use words::tokens;

/// How it is known that something is in a dish.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Known {
    /// The menu says so.
    Said,
    /// Inferred from this word.
    From(String),
}

/// What is in a dish, as far as it matters for safety.
///
/// ```
/// use rangewright_models::larder::{Allergen, Contents, Food};
/// use rangewright_models::menu::{Dish, Kind, Step};
///
/// let dish = Dish::new("Coronation chicken", vec![Step::new(Kind::Dress, 10)]);
/// assert!(Contents::of(&dish).has(Food::Poultry));
/// let dish = Dish { without: vec!["poultry".to_owned()], ..dish };
/// assert!(!Contents::of(&dish).has(Food::Poultry));
/// let dish = Dish::new("Celeriac gratin with cream", vec![Step::new(Kind::Bake, 60)]);
/// assert!(Contents::of(&dish).allergens.contains_key(&Allergen::Milk));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Contents {
    /// Food that calls for care.
    pub foods: BTreeMap<Food, Known>,
    /// What some guests cannot have, of the lists that laws name.
    pub allergens: BTreeMap<Allergen, Known>,
    /// Anything stuffed, rolled, minced or pierced, so that its inside may carry what was outside.
    pub opened: Option<String>,
    /// It is bought cooked: a ham, smoked mackerel, a roast chicken for sandwiches.
    pub bought_cooked: bool,
    /// What it looks like and the word for it, if nothing says what is in it: to be asked for.
    pub unknown: Option<(Food, String)>,
}

impl Contents {
    /// What a dish contains: said, or inferred from its name, its jobs and what is bought for it.
    pub fn of(dish: &Dish) -> Contents {
        let mut contents = Contents::default();
        for said in &dish.contains {
            contents.foods.insert(Food::of(*said), Known::Said);
        }
        let jobs = dish.steps.iter().filter_map(|step| step.title.as_deref()).map(|title| (title, true));
        let bought = dish.buys.iter().map(|buy| (buy.what.as_str(), false));
        let texts: Vec<(&str, bool)> = std::iter::once((dish.name.as_str(), false)).chain(jobs).chain(bought).collect();
        // A vegan bake with "mince" in it has none; what is bought or done in another dish does not speak for this one.
        let meatless = words::tokens(&dish.name).iter().any(|word| words::MEATLESS.contains(&word.as_str()));
        for (text, is_job) in texts {
            let found = words::of(text);
            for (food, word) in found.foods {
                if !(meatless && food.is_animal()) {
                    contents.foods.entry(food).or_insert(Known::From(word));
                }
            }
            for (allergen, word) in found.allergens {
                if is_job && words::VERBS.contains(&word.as_str()) {
                    continue;
                }
                contents.allergens.entry(allergen).or_insert(Known::From(word));
            }
            contents.bought_cooked |= found.bought_cooked;
            contents.opened = contents.opened.take().or(found.opened);
        }
        for food in contents.foods.keys().copied().collect::<Vec<_>>() {
            for allergen in food.allergens() {
                let known = contents.foods[&food].clone();
                contents.allergens.entry(*allergen).or_insert(known);
            }
        }
        for said in &dish.allergens {
            if let Some(allergen) = Allergen::called(said) {
                contents.allergens.insert(allergen, Known::Said);
            }
        }
        contents.deny(&dish.without, &dish.contains);
        contents.unknown = unknown::looks_like(dish, &contents);
        contents
    }

    /// Takes out what the menu denies. What it says and denies at once stays: the reader of menus refuses that.
    fn deny(&mut self, without: &[String], said: &[Contains]) {
        for word in without {
            let word = slug(word);
            let found = words::of(&word);
            let named = |food: Food| food.word() == word || found.foods.iter().any(|(own, _)| *own == food);
            self.foods.retain(|&food, _| said.iter().any(|&said| Food::of(said) == food) || !named(food));
            let named = |allergen: Allergen| {
                Allergen::called(&word) == Some(allergen) || found.allergens.iter().any(|(own, _)| *own == allergen)
            };
            self.allergens.retain(|&allergen, known| *known == Known::Said || !named(allergen));
            if ["stuffing", "stuffed", "mince", "rolled"].contains(&word.as_str()) {
                self.opened = None;
            }
        }
    }

    /// What calls for care and the allergens, as a sheet says it, each with the word it was inferred from in brackets; none
    /// if there is neither.
    ///
    /// ```
    /// use rangewright_models::larder::Contents;
    /// use rangewright_models::menu::{Dish, Kind, Step};
    ///
    /// let dish = Dish::new("Leek gratin with cream", vec![Step::new(Kind::Bake, 60)]);
    /// assert_eq!(Contents::of(&dish).told().as_deref(), Some("dairy [cream]; allergens: milk [cream]"));
    /// ```
    pub fn told(&self) -> Option<String> {
        let told = |name: String, known: &Known| match known {
            Known::From(word) if *word != name => format!("{name} [{word}]"),
            _ => name,
        };
        // "Meat" alone says nothing where it is known of which animal.
        let better = self.any(|food| food.is_flesh() && food != Food::Meat);
        let foods = self.foods.iter().filter(|(food, _)| !(better && **food == Food::Meat));
        let foods: Vec<String> = foods.map(|(food, known)| told(food.to_string(), known)).collect();
        let allergens: Vec<String> = self.allergens.iter().map(|(own, known)| told(own.to_string(), known)).collect();
        let allergens = (!allergens.is_empty()).then(|| format!("allergens: {}", allergens.join(", ")));
        let parts: Vec<String> = (!foods.is_empty()).then(|| foods.join(", ")).into_iter().chain(allergens).collect();
        (!parts.is_empty()).then(|| parts.join("; "))
    }

    /// Whether it is in the dish.
    pub fn has(&self, food: Food) -> bool {
        self.foods.contains_key(&food)
    }

    /// Whether any of these is in the dish.
    pub fn any(&self, is: impl Fn(Food) -> bool) -> bool {
        self.foods.keys().any(|&food| is(food))
    }

    /// The first food of the dish for which this holds, as a word: `poultry`.
    pub fn first(&self, is: impl Fn(Food) -> bool) -> Option<Food> {
        self.foods.keys().copied().find(|&food| is(food))
    }

    /// Whether the menu itself says that something calls for care.
    pub fn said(&self) -> bool {
        self.foods.values().any(|known| *known == Known::Said)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::menu::{Kind, Step};

    fn foods(name: &str) -> Vec<Food> {
        Contents::of(&Dish::new(name, vec![Step::new(Kind::Prep, 5)])).foods.into_keys().collect()
    }

    #[test]
    fn dishes_say_what_they_are() {
        assert_eq!(foods("Roast goose"), [Food::Poultry]);
        assert_eq!(foods("Pulled pork shoulder"), [Food::Pork]);
        assert_eq!(foods("Leg of lamb"), [Food::RedMeat]);
        assert_eq!(foods("Cottage pie"), [Food::Mince]);
        assert_eq!(foods("Chilli with kidney beans"), [Food::KidneyBeans]);
        assert_eq!(foods("Scotch eggs"), [Food::Mince, Food::Egg]);
        assert_eq!(foods("Mushroom risotto"), [Food::Rice]);
        assert_eq!(foods("Meringues"), [Food::Egg]);
    }

    #[test]
    fn words_that_only_sound_like_food_say_nothing() {
        for name in [
            "Mince pies with mincemeat",
            "Eggplant in oil",
            "Lamb's lettuce",
            "Beef tomatoes",
            "Oyster mushrooms",
            "Green beans",
            "Butter beans without meat in name only",
            "Egg-free sponge",
            "Rice vinegar dressing",
            "Nut roast",
            "Goose fat potatoes",
            "Vegan sausage rolls",
        ] {
            let own: Vec<Food> = foods(name).into_iter().filter(|food| *food != Food::Beans).collect();
            assert_eq!(own, [], "{name}");
        }
    }

    #[test]
    fn what_is_denied_is_out_and_what_is_said_stays() {
        let dish = Dish {
            without: vec!["egg".to_owned(), "milk".to_owned()],
            contains: vec![Contains::Fish],
            ..Dish::new("Fish custard", vec![Step::new(Kind::Bake, 30)])
        };
        let contents = Contents::of(&dish);
        assert_eq!(contents.foods.keys().copied().collect::<Vec<_>>(), [Food::Fish]);
        assert!(!contents.allergens.contains_key(&Allergen::Milk) && !contents.allergens.contains_key(&Allergen::Egg));
    }
}

//! What is known of a step and of its food.

use super::words::{COLD, IN_THE_ROOM, WET, says};
use super::{BOIL, Spell};
use crate::cook::chill::Cooler;
use crate::cook::safety::Caution;
use crate::larder::{Contents, Food, Known, tokens};
use crate::menu::{Keeps, Kind, slug};
use crate::oven::SWING;

impl<'a> Spell<'a> {
    /// What is in its dish.
    pub fn contents(&self) -> &'a Contents {
        &self.dish.contents
    }

    /// The hottest that its middle may become in the step, degrees C: the highest dial of its oven, or boiling water. The air
    /// swings above the dial for moments only. Where no oven tells, a temperature in the cook's words does: a bath at 54 C.
    pub fn hottest(&self) -> f64 {
        self.mode.t.map_or_else(
            || self.told_c().map_or(BOIL, |told| told.min(BOIL)),
            |[low, high]| (high - SWING).max(low) as f64,
        )
    }

    /// The highest temperature that the words of its job name, degrees C.
    fn told_c(&self) -> Option<f64> {
        let words = tokens(&self.label.title);
        let degrees = words.iter().enumerate().filter_map(|(at, word)| {
            let (number, unit) = match word.strip_suffix(['c', 'f']) {
                Some(number) => (number, &word[number.len()..]),
                None => (word.as_str(), words.get(at + 1)?.as_str()),
            };
            let number: f64 = number.parse().ok()?;
            match unit {
                "c" => Some(number),
                "f" => Some((number - 32.0) / 1.8),
                _ => None,
            }
        });
        degrees.reduce(f64::max)
    }

    /// The temperature its oven is planned for, degrees C: the middle of a narrow window, the lower end of a wide one.
    pub fn oven(&self) -> Option<f64> {
        self.mode.t.map(|[low, high]| if high - low <= 10 { (low + high) as f64 / 2.0 } else { low as f64 })
    }

    /// The cautions that the models gave this step and its way.
    pub fn own_cautions(&self) -> impl Iterator<Item = &'a Caution> {
        self.label.cautions.iter().chain(&self.words.cautions)
    }

    /// Whether a word or a phrase is in what the menu says of the step or its dish.
    pub fn says(&self, phrases: &[&str]) -> bool {
        self.text_says(phrases) || says(&tokens(&self.dish.name), phrases)
    }

    /// Whether a word or a phrase is in what the menu says of the step.
    pub fn text_says(&self, phrases: &[&str]) -> bool {
        let note = self.label.note.as_deref().unwrap_or_default();
        says(
            &tokens(&format!("{} {note} {}", self.label.title, self.step.id.rsplit('/').next().unwrap_or_default())),
            phrases,
        )
    }

    /// Its food is in the refrigerator, or in something as cold.
    pub fn is_cold(&self) -> bool {
        let lies = match &self.label.kind {
            Kind::Chill | Kind::Soak => true,
            Kind::Other(word) if word == "stand" => self.facts.keeps == Keeps::Cold,
            Kind::Other(word) => COLD.contains(&slug(word).as_str()),
            _ => false,
        };
        lies && self.facts.cooler != Some(Cooler::Kitchen) && !self.text_says(IN_THE_ROOM)
    }

    /// The food of the dish that germs like, if it is cooked, or raw. Eggs and milk baked into a cake keep; so they do in a
    /// dough or a batter that is still to be baked.
    pub fn perishable(&self, cooked: bool) -> Option<Food> {
        let contents = self.contents();
        let keeps_baked = |food: Food| {
            let baked = self.label.kind == Kind::Bake || self.facts.cooked && self.dish.baked;
            let wet = |word: &str| WET.contains(&word);
            matches!(food, Food::Egg | Food::Dairy)
                && (baked && !matches!(contents.foods.get(&food), Some(Known::Said)))
                && !matches!(contents.foods.get(&food), Some(Known::From(word)) if wet(word))
        };
        let raw_counts = |food: Food| {
            food.is_flesh()
                || food == Food::CookedMeat
                || !self.facts.to_be_cooked && matches!(food, Food::Egg | Food::Dairy)
        };
        contents.first(|food| if cooked { !keeps_baked(food) } else { raw_counts(food) })
    }
}

//! Diets: what their names leave out, and which dishes suit whom.
//!
//! What a diet leaves out is known of a few names, from the common meaning of the words (common practice, no source); of any
//! other name nothing is known, and only what a menu makes `for` it suits it. A dish that seems to suit a diet does so as far
//! as its words tell: a cook who knows better says `for`.

use serde::{Deserialize, Serialize};

use super::{Allergen, Contents, Food, Known};
use crate::menu::{Dish, Menu, slug};

/// Whether somebody with a diet can have a dish.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Suits {
    /// It is made for them.
    Made,
    /// It is made for them, but has this in it, as far as its words tell.
    MadeWith(String),
    /// Nothing in its words speaks against it.
    AsFarAsKnown,
    /// It has this in it.
    Has(String),
    /// It is made for others, or nothing is known of the diet.
    Others,
}

impl Suits {
    /// Whether they eat of it.
    pub fn eaten(&self) -> bool {
        matches!(self, Suits::Made | Suits::MadeWith(_) | Suits::AsFarAsKnown)
    }
}

/// What a diet leaves out.
enum Leaves {
    Foods(fn(Food) -> bool),
    Allergen(Allergen),
}

/// Words before or behind what is left out: `no nuts`, `nut-free`, `without egg`.
const WITHOUT: &[&str] = &["no-", "without-", "not-", "allergic-to-"];
const FREE: &[&str] = &["-free", "-allergy", "-intolerant"];

fn flesh(food: Food) -> bool {
    food.is_flesh() || matches!(food, Food::CookedMeat | Food::Gravy)
}

/// What a diet leaves out by its name; nothing if the name is not known.
fn leaves_out(diet: &str) -> Vec<Leaves> {
    let name = slug(diet);
    match name.as_str() {
        "vegetarian" | "vegetarians" | "veggie" | "no-meat-or-fish" => vec![Leaves::Foods(flesh)],
        "vegan" | "vegans" | "plant-based" => {
            vec![Leaves::Foods(Food::is_animal), Leaves::Allergen(Allergen::Milk), Leaves::Allergen(Allergen::Egg)]
        }
        "pescatarian" | "pescetarian" | "no-meat" => {
            vec![Leaves::Foods(|food| flesh(food) && !matches!(food, Food::Fish | Food::Shellfish))]
        }
        "coeliac" | "celiac" => vec![Leaves::Allergen(Allergen::Gluten)],
        "no-pork" => {
            vec![Leaves::Foods(|food| matches!(food, Food::Pork | Food::Mince | Food::CookedMeat | Food::Meat))]
        }
        "lactose-intolerant" | "lactose-free" | "no-lactose" | "dairy-free" | "no-dairy" => {
            vec![Leaves::Allergen(Allergen::Milk)]
        }
        _ => {
            let behind = WITHOUT.iter().find_map(|word| name.strip_prefix(word));
            let before = FREE.iter().find_map(|word| name.strip_suffix(word));
            behind.or(before).and_then(Allergen::called).map(Leaves::Allergen).into_iter().collect()
        }
    }
}

/// What a dish has that a diet leaves out: `milk, from the word "cream"`.
fn against(contents: &Contents, leaves: &[Leaves]) -> Option<String> {
    let said = |what: String, known: &Known| match known {
        Known::From(word) if *word != what => format!("{what}, from the word \"{word}\""),
        _ => what,
    };
    leaves.iter().find_map(|leaves| match leaves {
        Leaves::Foods(out) => {
            contents.foods.iter().find(|(food, _)| out(**food)).map(|(food, known)| said(food.to_string(), known))
        }
        Leaves::Allergen(out) => contents.allergens.get(out).map(|known| said(out.to_string(), known)),
    })
}

/// Whether a dish suits a diet.
///
/// ```
/// use rangewright_models::larder::{Suits, suits};
/// use rangewright_models::menu::{Dish, Kind, Step};
///
/// let pie = Dish::new("Leek pie with cream", vec![Step::new(Kind::Bake, 40)]);
/// assert_eq!(suits(&pie, "vegetarian"), Suits::AsFarAsKnown);
/// assert_eq!(suits(&pie, "no milk"), Suits::Has("milk, from the word \"cream\"".to_owned()));
/// assert_eq!(suits(&pie, "Aunt May"), Suits::Others, "nobody knows what she eats");
/// let pie = Dish { diets: vec!["Aunt May".into()], ..pie };
/// assert_eq!(suits(&pie, "aunt may"), Suits::Made);
/// ```
pub fn suits(dish: &Dish, diet: &str) -> Suits {
    let contents = Contents::of(dish);
    let leaves = leaves_out(diet);
    let against = against(&contents, &leaves);
    let made = dish.diets.iter().any(|named| slug(&named.name) == slug(diet));
    match against {
        Some(what) if made => Suits::MadeWith(what),
        _ if made => Suits::Made,
        _ if !dish.diets.is_empty() => Suits::Others,
        Some(what) => Suits::Has(what),
        None if leaves.is_empty() => Suits::Others,
        None => Suits::AsFarAsKnown,
    }
}

/// How many eat of a dish, and how many of them are children. Where diets may fall together, rather too many than too few:
/// those whom it does not suit are taken to be the same people, and those it is made for to be adults.
///
/// Of a dish that each of several groups makes, its share of them, rounded up.
pub fn eaters(menu: &Menu, dish: &Dish) -> (i64, i64) {
    let (eaters, children) = of_all(menu, dish);
    let share = |all: i64| dish.share.map_or(all, |groups| all.saturating_add(groups - 1) / groups.max(1));
    (share(eaters), share(children))
}

fn of_all(menu: &Menu, dish: &Dish) -> (i64, i64) {
    if !dish.diets.is_empty() {
        let own = menu.diets.iter().filter(|diet| dish.diets.iter().any(|named| slug(&named.name) == slug(&diet.name)));
        return (own.map(|diet| diet.guests).sum::<i64>().clamp(0, menu.guests), 0);
    }
    // Whoever has a dish of their own in the course, or cannot have this one, leaves it to the others.
    let without = menu.diets.iter().filter(|diet| !suits(dish, &diet.name).eaten());
    let eaters = menu.guests - without.map(|diet| diet.guests).max().unwrap_or(0).clamp(0, menu.guests);
    (eaters, menu.children.min(eaters))
}

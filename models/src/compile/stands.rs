//! Where food stands between two steps.
//!
//! What a menu does not say is where a cook would put it (common practice, no source), and only told on the sheets. What it says
//! counts: food that `waits` in the refrigerator takes a shelf of it for as long, where the kitchen counts them.

use std::collections::BTreeMap;

use crate::blocks::{Defaults, Setting};
use crate::kitchen::SHELF;
use crate::labels::{Facts, Warmth};
use crate::larder::Contents;
use crate::menu::{Keeps, Kind, Stand, Step, slug};

/// Where the food of a step stands until it goes on; nothing for the counter, unless the menu says so.
pub(super) fn stands(step: &Step, usual: &Defaults, facts: &Facts, contents: &Contents) -> Option<Stand> {
    let in_pot = usual.setting == Setting::Hob && usual.hands == 0 || step.kind == Kind::Braise;
    let hot = facts.cooked || facts.warmth == Warmth::Through;
    let usual = match facts.keeps {
        _ if step.kind == Kind::Chill => Some(Stand::Refrigerator),
        Keeps::Cold if super::spoils(facts, contents) => Some(Stand::Refrigerator),
        Keeps::Hot | Keeps::Warm if in_pot => Some(Stand::Hob),
        Keeps::Hot if hot => Some(Stand::Warm),
        _ => None,
    };
    step.waits.or(usual)
}

/// How food bears waiting where it stands: what is said to keep cold does so in the cold alone.
pub(super) fn keeps(said: Option<Stand>, keeps: Keeps) -> Keeps {
    match (said, keeps) {
        (Some(Stand::Refrigerator), _) => Keeps::Cold,
        (Some(_), Keeps::Cold | Keeps::Free) => Keeps::Warm,
        _ => keeps,
    }
}

/// The shelves of the refrigerator, if the kitchen counts them.
pub(super) struct Shelves(Option<String>);

impl Shelves {
    pub(super) fn of(pools: &BTreeMap<String, i64>) -> Shelves {
        Shelves(Some(slug(SHELF)).filter(|shelf| pools.contains_key(shelf)))
    }

    /// What the food of a step takes while it waits: as many shelves as the step itself, or one.
    pub(super) fn taken(&self, step: &Step) -> BTreeMap<String, i64> {
        let Some(shelf) = self.0.as_ref().filter(|_| step.waits == Some(Stand::Refrigerator)) else {
            return BTreeMap::new();
        };
        let own = step.way.uses.iter().find(|(name, _)| slug(name) == *shelf).map_or(1, |(_, &count)| count);
        BTreeMap::from([(shelf.clone(), own.max(1))])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compile::{self, Compiled};

    fn compiled(steps: &str) -> Compiled {
        let menu = format!(
            r#"Menu(name: "Test", kitchen: Kitchen(places: [Oven("oven", "46 x 40 x 36 cm"), Burners("burner", 2)], fridge_shelves: 3),
                date: "2026-11-08", zone: "Europe/London", serve: "19:00", dishes: [Dish(name: "Dish", contains: [fish], steps: [{steps}])])"#
        );
        compile::feast(&menu, "menu", |_| Err("none".to_owned())).unwrap_or_else(|faults| panic!("{faults}"))
    }

    fn places(steps: &str) -> Vec<Option<Stand>> {
        let own = compiled(steps);
        own.problem.steps.iter().map(|step| own.labels.steps[&step.id].stands).collect()
    }

    #[test]
    fn food_stands_where_a_cook_would_put_it() {
        use Stand::{Hob, Refrigerator, Warm};
        let steps = r#"Prep("Bone it", "9 min"), Simmer("Simmer it", "20 min"), Chill(takes: "3 h"), Reheat(takes: "9 min"), Dress("Dress it", "3 min")"#;
        assert_eq!(places(steps), [Some(Refrigerator), Some(Hob), Some(Refrigerator), Some(Hob), None]);
        let steps =
            r#"Roast(at: "180 C", takes: "40 min", pan: "30 x 20 x 6 cm"), Carve(takes: "4 min", waits: counter)"#;
        assert_eq!(places(steps), [Some(Warm), Some(Stand::Counter)]);
    }

    /// What is not said is only told; what is said takes a shelf, and does not spoil there.
    #[test]
    fn only_what_is_said_counts() {
        let steps =
            |waits: &str, next: &str| compiled(&format!(r#"Prep(do: "Cure it", takes: "9 min"{waits}), {next}"#));
        let dress = r#"Dress("Dress it", "3 min")"#;
        let plain = steps("", dress);
        assert!(plain.problem.links[0].pools.is_empty() && plain.problem.courses[0].sinks[0].pools.is_empty());
        let shelf = BTreeMap::from([("fridge-shelf".to_owned(), 1)]);
        assert_eq!(steps(", waits: fridge", dress).problem.links[0].pools, shelf);
        let cold = compiled(r#"Chill(takes: "2 h", uses: {"fridge shelf": 2}, waits: refrigerator)"#);
        assert_eq!(cold.problem.courses[0].sinks[0].pools["fridge-shelf"], 2);
        // On the counter, raw fish may not wait for hours.
        assert_eq!(plain.problem.links[0].max, None);
        let limit = steps(", waits: counter", dress).problem.links[0].max;
        assert!(limit.is_some_and(|minutes| minutes <= 240), "{limit:?}");
    }
}

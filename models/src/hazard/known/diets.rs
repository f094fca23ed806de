//! Guests who have nothing in a course, and dishes for them that meet what they do not eat.

use std::collections::BTreeMap;

use super::allergens::shared;
use super::*;
use crate::hazard::{Finding, Night, Spell};
use crate::labels::DietLabel;
use crate::larder::Suits;

pub(super) const HAZARD: Hazard = Hazard {
    code: "nothing-for-a-diet",
    what: "guests with a diet have no dish in a course, or theirs has or meets what they do not eat",
    topic: Topic::Diet,
    looks_at: "the diets of the menu, for whom its dishes are, what their words say is in them, and the tools, fat and ovens they share",
    verdict: "caution",
    remedy: "a dish with for: \"vegetarian\" in that course; a pan, fat or rack of its own; tell your guests",
    source: |_| practice("who can eat what is known by words alone, and shown as far as it is known"),
    find,
};

fn find(night: &Night<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    for (number, diet) in night.labels.diets.iter().enumerate() {
        nothing_in(night, number, diet, &mut found);
        for spell in firsts(night) {
            if let Some(Suits::MadeWith(what)) = spell.dish.suits.get(number) {
                let text = format!(
                    "{} is for {}, and has {what}: leave that out, or say without: [...] if it has none",
                    spell.dish.name,
                    diet.whom()
                );
                found.push(Finding::new(Weight::Caution, text, &[spell]));
            }
        }
        meets(night, number, diet, &mut found);
    }
    found
}

/// The first step of each dish.
fn firsts<'n, 'a>(night: &'n Night<'a>) -> Vec<&'n Spell<'a>> {
    let mut firsts: Vec<&Spell<'a>> = Vec::new();
    for spell in &night.spells {
        if !firsts.iter().any(|own| own.step.dish == spell.step.dish) {
            firsts.push(spell);
        }
    }
    firsts
}

/// A dish for a diet, what it shares, and what to do.
type Shared = (String, String, &'static str);

fn nothing_in(night: &Night<'_>, number: usize, diet: &DietLabel, found: &mut Vec<Finding>) {
    for course in &night.problem.courses {
        let firsts = firsts(night);
        let served: Vec<_> =
            firsts.iter().copied().filter(|own| own.dish.course.as_deref() == Some(course.id.as_str())).collect();
        let eaten = |own: &&Spell<'_>| own.dish.suits.get(number).is_some_and(Suits::eaten);
        let Some(first) = served.first().filter(|_| !served.iter().any(eaten)) else { continue };
        let name = night.labels.courses.get(&course.id).map_or(course.id.as_str(), |own| own.name.as_str());
        let why: Vec<String> = served
            .iter()
            .filter_map(|own| match own.dish.suits.get(number) {
                Some(Suits::Has(what)) => Some(format!("{} has {what}", own.dish.name)),
                _ => None,
            })
            .collect();
        let why = if why.is_empty() { String::new() } else { format!(" ({})", why.join("; ")) };
        let text = format!(
            "nothing in {name} is for {}{why}: add a dish, or say for: {:?} where one suits",
            diet.whom(),
            diet.name
        );
        found.push(Finding::new(Weight::Caution, text, &[first]));
    }
}

/// What is made for a diet shares a tool, fat or an oven with what has in it what the diet leaves out.
fn meets(night: &Night<'_>, number: usize, diet: &DietLabel, found: &mut Vec<Finding>) {
    let mut lines: BTreeMap<Shared, Vec<(String, String)>> = BTreeMap::new();
    let has = |own: &&Spell<'_>| matches!(own.dish.suits.get(number), Some(Suits::Has(_)));
    let made = |own: &&Spell<'_>| matches!(own.dish.suits.get(number), Some(Suits::Made | Suits::MadeWith(_)));
    for own in night.spells.iter().filter(made) {
        for other in night.spells.iter().filter(has).filter(|other| own.end > other.start) {
            let Some((tool, what)) = shared(night, other, own) else { continue };
            let with = lines.entry((own.dish.name.clone(), tool, what)).or_default();
            if !with.iter().any(|(_, dish)| *dish == other.dish.name) {
                with.push((own.step.id.clone(), other.dish.name.clone()));
            }
        }
    }
    for ((dish, tool, what), with) in lines {
        let (steps, dishes): (Vec<String>, Vec<String>) = with.into_iter().unzip();
        let text = format!("{dish} is for {} and shares the {tool} with {}: {what}", diet.whom(), dishes.join(", "));
        found.push(Finding { weight: Weight::Caution, text, steps });
    }
}

#[cfg(test)]
mod tests {
    use crate::compile::{self, Compiled};
    use crate::faults::{Code, Faults};
    use crate::hazard::of_menu;

    fn feast(diets: &str, bake: &str) -> Result<Compiled, Faults> {
        let menu = format!(
            r#"Menu(name: "Supper", guests: 14, diets: {{{diets}}}, date: "2026-11-08", zone: "Europe/London",
                courses: [Course("main", "19:00"), Course("sweet", "20:00")],
                kitchen: Kitchen(places: [Burners("burner", 2), Oven("oven", "46 x 40 x 36 cm")]),
                dishes: [
                    Dish(name: "Chicken in cider", course: "main", buys: {{"chicken": "250 g each"}}, steps: [
                        Braise(do: "Braise it", at: "160 C", takes: "90 min", pan: "36 x 28 x 12 cm"),
                    ]),
                    Dish(name: "Squash bake", course: "main", {bake} buys: {{"squash": "200 g each"}}, steps: [
                        Bake(do: "Bake it", at: "160 C", takes: "60 min", pan: "30 x 20 x 6 cm"),
                    ]),
                    Dish(name: "Pears", course: "sweet", buys: {{"pears": "1 each"}}, steps: [Prep("Slice them", "10 min")]),
                ])"#
        );
        compile::feast(&menu, "supper", |_| Err("it stands in the menu".to_owned()))
    }

    /// What is said of diets.
    fn said(diets: &str, bake: &str) -> Vec<String> {
        let compiled = feast(diets, bake).unwrap();
        let found = of_menu(&compiled.problem, &compiled.labels).into_iter().map(|(caution, _)| caution);
        found.filter(|own| own.topic == super::Topic::Diet).map(|own| own.text).collect()
    }

    fn bought(diets: &str, bake: &str, what: &str) -> i64 {
        let compiled = feast(diets, bake).unwrap();
        compiled.labels.shopping.iter().find(|own| own.what == what).map_or(0, |own| own.hundredths / 100)
    }

    #[test]
    fn who_has_nothing_in_a_course_is_said() {
        assert_eq!(said("", ""), [""; 0]);
        assert_eq!(said(r#""vegetarian": 3"#, ""), [""; 0], "squash and pears suit them as far as is known");
        let said = said(r#""vegetarian": 3, "Aunt May": 1"#, r#"for: "vegetarian","#);
        assert!(said.iter().any(|own| own.contains("nothing in main is for 1 guest (Aunt May)")), "{said:?}");
        assert!(said.iter().any(|own| own.contains("nothing in sweet is for 1 guest (Aunt May)")), "{said:?}");
    }

    #[test]
    fn what_is_made_for_them_keeps_to_itself() {
        let shared = said(r#""vegetarian": 3"#, r#"for: "vegetarian","#);
        let oven = "Squash bake is for 3 guests (vegetarian) and shares the Oven with Chicken in cider";
        assert!(shared.iter().any(|own| own.to_lowercase().contains(&oven.to_lowercase())), "{shared:?}");
        let has = said(r#""vegan": 2"#, r#"for: "vegan", allergens: ["milk"],"#);
        assert!(has.iter().any(|own| own.contains("Squash bake is for 2 guests (vegan), and has milk")), "{has:?}");
    }

    #[test]
    fn portions_follow_who_eats() {
        assert_eq!(bought("", "", "chicken"), 14 * 250);
        assert_eq!(bought(r#""vegetarian": 3"#, "", "chicken"), 11 * 250);
        assert_eq!(bought(r#""vegetarian": 3"#, "", "squash"), 14 * 200);
        assert_eq!(bought(r#""vegetarian": 3"#, r#"for: "vegetarian","#, "squash"), 3 * 200);
    }

    #[test]
    fn diets_are_of_guests_and_dishes_of_diets() {
        let codes =
            |diets, bake| feast(diets, bake).err().map(|own| own.iter().map(|own| own.code).collect::<Vec<_>>());
        assert_eq!(codes(r#""vegetarian": 15"#, ""), Some(vec![Code::Contradiction]));
        assert_eq!(codes(r#""vegetarian": 3"#, r#"for: "vegetarien","#), Some(vec![Code::UnknownName]));
        assert_eq!(codes("", r#"for: "vegan","#), Some(vec![Code::UnknownName]));
        assert_eq!(codes(r#""vegan": 1, "Vegan": 2"#, ""), Some(vec![Code::DuplicateName]));
    }
}

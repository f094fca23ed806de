//! One menu cooked by several groups, written out as the dishes of each: the steps are written once.

use std::borrow::Cow;
use std::collections::BTreeSet;

use super::found::Found;
use crate::faults::{Code, suggestion};
use crate::feast::Feast;
use crate::kitchen::Cook;
use crate::menu::{Dish, Group, Link, Named, Own, PanChoice, Step, Way, slug};

/// The feast with the dishes of each group; the feast itself if there are no groups.
pub(super) fn expand<'a>(feast: &'a Feast, found: &mut Found<'_>) -> Cow<'a, Feast> {
    let menu = &feast.menu;
    if menu.groups.is_empty() {
        return Cow::Borrowed(feast);
    }
    let mut whole = feast.clone();
    let base = if menu.cooks.is_empty() { &feast.kitchen.cooks } else { &menu.cooks };
    check(feast, base, found);
    whole.menu.cooks = base.iter().cloned().chain(menu.groups.iter().flat_map(cooks)).collect();
    let several = Several { feast, base };
    whole.menu.dishes = menu
        .dishes
        .iter()
        .flat_map(|dish| match dish.once {
            true => vec![several.once(dish)],
            false => menu.groups.iter().map(|group| several.copy(dish, group)).collect(),
        })
        .collect();
    whole.menu.ties = menu.ties.iter().flat_map(|tie| several.ties(tie)).collect();
    whole.menu.groups.clear();
    Cow::Owned(whole)
}

/// Groups of the same name, things that two of them call their own, and names of nothing.
fn check(feast: &Feast, base: &[Cook], found: &mut Found<'_>) {
    let (mut names, mut owned) = (BTreeSet::new(), BTreeSet::new());
    let places: Vec<&str> = feast.kitchen.places.iter().map(|place| place.name.as_str()).collect();
    let pans: Vec<&str> = feast.kitchen.pans.iter().map(|pan| pan.name.as_str()).collect();
    let cooks: Vec<&str> = base.iter().map(|cook| cook.name.as_str()).collect();
    for group in &feast.menu.groups {
        if !names.insert(slug(&group.name)) {
            super::stock::duplicate(&group.name, "group", group.origin, found);
        }
        let all = [("place", &group.places, &places), ("pan", &group.pans, &pans)];
        for (sort, own, known) in
            all.into_iter().flat_map(|(sort, own, known)| own.iter().map(move |own| (sort, own, known)))
        {
            if !known.iter().any(|name| slug(name) == slug(&own.is.name)) {
                let cause = format!("the kitchen has no {sort} {:?}", own.is.name);
                found.add(Code::UnknownName, own.is.origin, cause, suggestion(&own.is.name, known.iter().copied()));
            } else if !owned.insert((sort, slug(&own.is.name))) {
                let cause = format!("two groups call the {sort} {:?} their own", own.is.name);
                found.add(Code::Contradiction, own.is.origin, cause, "what all may use is named by no group");
            }
        }
        for named in &group.cooks {
            if !cooks.iter().any(|name| slug(name) == slug(&named.name)) {
                let cause = format!("there is no cook {:?}", named.name);
                found.add(Code::UnknownName, named.origin, cause, suggestion(&named.name, cooks.iter().copied()));
            } else if !owned.insert(("cook", slug(&named.name))) {
                let cause = format!("{:?} is in two groups", named.name);
                found.add(Code::Contradiction, named.origin, cause, "take one of the two out");
            }
        }
    }
}

/// The hands of a group whose people are not named.
fn cooks(group: &Group) -> Vec<Cook> {
    if !group.cooks.is_empty() {
        return Vec::new();
    }
    let cook = |name: String| Cook {
        name,
        shifts: group.shifts.clone(),
        away: Vec::new(),
        only: Vec::new(),
        origin: group.origin,
    };
    named(group).into_iter().map(cook).collect()
}

/// What its hands are called.
fn named(group: &Group) -> Vec<String> {
    match group.hands {
        ..=1 => vec![group.name.clone()],
        hands => (1..=hands).map(|number| format!("{} cook {number}", group.name)).collect(),
    }
}

struct Several<'a> {
    feast: &'a Feast,
    /// Those who are in no group: instructors, if they are named.
    base: &'a [Cook],
}

impl Several<'_> {
    /// A dish as one group makes it.
    fn copy(&self, dish: &Dish, group: &Group) -> Dish {
        let hands = if group.cooks.is_empty() {
            named(group).iter().map(|name| Named { name: name.clone(), origin: group.origin }).collect()
        } else {
            group.cooks.clone()
        };
        Dish {
            name: in_group(&dish.name, group),
            cooks: if dish.cooks.is_empty() { hands } else { dish.cooks.clone() },
            share: i64::try_from(self.feast.menu.groups.len()).ok(),
            steps: dish.steps.iter().map(|step| self.step(step, dish, group)).collect(),
            ..dish.clone()
        }
    }

    fn step(&self, step: &Step, dish: &Dish, group: &Group) -> Step {
        let mut step = step.clone();
        if let Some(after) = &mut step.after {
            for named in after.iter_mut() {
                named.name = self.renamed(&named.name, Some(dish), group);
            }
        }
        let others: Vec<String> = (self.feast.menu.groups.iter())
            .filter(|other| slug(&other.name) != slug(&group.name))
            .flat_map(|other| other.places.iter().map(|own| own.is.name.clone()))
            .collect();
        let own = |way: &mut Way| {
            for place in &mut way.places {
                if let Some(is) = of_group(&group.places, &place.name) {
                    place.name.clone_from(&is.name);
                }
            }
            if let Some(PanChoice::Named(pan)) = &mut way.pan
                && let Some(is) = of_group(&group.pans, &pan.name)
            {
                pan.name.clone_from(&is.name);
            }
            way.others.clone_from(&others);
        };
        std::iter::once(&mut step.way).chain(&mut step.ways).for_each(own);
        step
    }

    /// The name of a step or a dish, as this group makes it.
    fn renamed(&self, name: &str, within: Option<&Dish>, group: &Group) -> String {
        let copied = |of: &str| self.feast.menu.dishes.iter().find(|dish| slug(&dish.name) == slug(of) && !dish.once);
        let (of, step) = name.split_once('/').map_or((name, None), |(of, step)| (of, Some(step)));
        let of_dish = step.is_none()
            && within.is_some_and(|dish| {
                dish.steps.iter().any(|own| own.id.as_deref().is_some_and(|id| slug(id) == slug(of)))
            });
        match (copied(of).filter(|_| !of_dish), step) {
            (Some(dish), Some(step)) => format!("{}/{step}", in_group(&dish.name, group)),
            (Some(dish), None) => in_group(&dish.name, group),
            (None, _) => name.to_owned(),
        }
    }

    /// A dish that is made once, by whoever is in no group: what it follows is made by all.
    fn once(&self, dish: &Dish) -> Dish {
        let mut dish = dish.clone();
        if dish.cooks.is_empty() {
            let in_group = |cook: &&Cook| {
                let groups = &self.feast.menu.groups;
                groups.iter().flat_map(|group| &group.cooks).any(|named| slug(&named.name) == slug(&cook.name))
            };
            let free = self.base.iter().filter(|cook| !in_group(cook));
            dish.cooks = free.map(|cook| Named { name: cook.name.clone(), origin: dish.origin }).collect();
        }
        for step in &mut dish.steps {
            if let Some(after) = &mut step.after {
                *after = after.iter().flat_map(|named| self.of_all(named)).collect();
            }
        }
        dish
    }

    /// What a name stands for in every group; itself if it is made once.
    fn of_all(&self, named: &Named) -> Vec<Named> {
        let mut all: Vec<Named> = Vec::new();
        for group in &self.feast.menu.groups {
            let own = Named { name: self.renamed(&named.name, None, group), ..named.clone() };
            if !all.contains(&own) {
                all.push(own);
            }
        }
        all
    }

    /// A tie in every group; between what is made once and what each makes, one for each.
    fn ties(&self, tie: &Link) -> Vec<Link> {
        let mut all: Vec<Link> = Vec::new();
        for group in &self.feast.menu.groups {
            let [from, to] = [&tie.from, &tie.to]
                .map(|named| Named { name: self.renamed(&named.name, None, group), ..(*named).clone() });
            if !all.iter().any(|own| own.from == from && own.to == to) {
                all.push(Link { from, to, ..tie.clone() });
            }
        }
        all
    }
}

/// What a dish is called as a group makes it.
fn in_group(dish: &str, group: &Group) -> String {
    format!("{dish} ({})", group.name)
}

/// What a step calls something, as the group has it.
fn of_group<'o>(own: &'o [Own], called: &str) -> Option<&'o Named> {
    own.iter().find(|own| own.called.as_deref().is_some_and(|name| slug(name) == slug(called))).map(|own| &own.is)
}

#[cfg(test)]
mod tests {
    use crate::compile::{self, Compiled};
    use crate::faults::{Code, Faults};

    const KITCHEN: &str = r#"Kitchen(places: [Oven("oven", "46 x 40 x 36 cm"), Burners("hob 1", 2), Burners("hob 2", 2)],
        pans: [Pan(name: "blue pot", size: "24 x 12 cm", count: 1), Pan(name: "red pot", size: "24 x 12 cm", count: 1)],
        cooks: [Cook("Odile", ["9:00 to 14:00"]), Cook("Ada", ["9:00 to 14:00"]), Cook("Ben", ["9:00 to 14:00"])])"#;

    fn read(groups: &str, dishes: &str) -> Result<Compiled, Faults> {
        let menu = format!(
            r#"Menu(name: "Class", guests: 9, date: "2026-11-08", zone: "Europe/London", serve: "12:00", kitchen: {KITCHEN}, {groups} dishes: [{dishes}])"#
        );
        compile::feast(&menu, "class", |_| Err("it stands in the menu".to_owned()))
    }

    fn compiled(groups: &str, dishes: &str) -> Compiled {
        read(groups, dishes).unwrap_or_else(|faults| panic!("{faults}"))
    }

    const TWO: &str = r#"groups: [
        Group(name: "Blue", cooks: ["Ada"], places: ["hob 1"], pans: {"pot": "blue pot"}),
        Group(name: "Red", cooks: ["Ben"], places: {"own hob": "hob 2"}, pans: {"pot": "red pot"}),
    ],"#;
    const SOUP: &str = r#"Dish(name: "Soup", buys: {"leeks": "100 g each"}, steps: [Prep("Slice", "9 min"), Simmer(takes: "30 min", pan: "pot", with: "Odile")])"#;

    /// Each group has the dish, in its own places and pans, by its own people; who instructs is shared.
    #[test]
    fn the_steps_are_written_once_and_done_by_each_group() {
        let own = compiled(TWO, SOUP);
        let ids: Vec<&str> = own.problem.steps.iter().map(|step| &*step.id).collect();
        assert_eq!(ids[..4], ["soup-blue/prep", "soup-blue/simmer", "soup-red/prep", "soup-red/simmer"]);
        let mode = |id: &str| {
            own.problem.steps.iter().find(|step| step.id == id).map(|step| step.modes.clone()).unwrap_or_default()
        };
        let [blue, red] = ["soup-blue/simmer", "soup-red/simmer"].map(mode);
        assert_eq!((blue.len(), red.len()), (1, 1), "the other group's hob is not offered");
        assert_eq!((blue[0].place.as_deref(), red[0].place.as_deref()), (Some("hob-1"), Some("hob-2")));
        assert!(blue[0].pools.contains_key("blue-pot") && red[0].pools.contains_key("red-pot"));
        assert_eq!(blue[0].who, Some(vec!["Ada".to_owned()]));
        let with: Vec<_> = own.problem.steps.iter().filter(|step| step.id.ends_with(".with")).collect();
        assert!(with.len() == 2 && with.iter().all(|step| step.modes[0].who == Some(vec!["Odile".to_owned()])));
        // Nine guests in two groups: five of each, rather too many than too few.
        assert_eq!(own.labels.shopping[0].hundredths, 2 * 50_000);
        assert_eq!(own.labels.dishes["soup-red"].name, "Soup (Red)");
    }

    /// Groups are the dishes of each written out, word for word.
    #[test]
    fn groups_are_what_one_would_write_out() {
        let bake = r#"Bake(at: "180 C", takes: "30 min", pan: "30 x 20 x 6 cm")"#;
        let dish = |name: &str, cook: &str, more: &str| {
            format!(r#"Dish(name: "{name}", {cook} steps: [Prep("Mix", "9 min"), {bake}{more}])"#)
        };
        let groups = r#"groups: [Group("Blue", ["9:00 to 13:00"]), Group("Red", ["9:00 to 13:00"])],"#;
        let short = compiled(
            groups,
            &format!(
                "{}, {}",
                dish("Pie", "", ""),
                r#"Dish(name: "Salad", once: true, steps: [Dress(takes: "5 min", after: ["Pie"])])"#
            ),
        );
        let long = compiled(
            r#"cooks: [Cook("Odile", ["9:00 to 14:00"]), Cook("Ada", ["9:00 to 14:00"]), Cook("Ben", ["9:00 to 14:00"]),
                Cook("Blue", ["9:00 to 13:00"]), Cook("Red", ["9:00 to 13:00"])],"#,
            &format!(
                r#"{}, {}, Dish(name: "Salad", cook: ["Odile", "Ada", "Ben"], steps: [Dress(takes: "5 min", after: ["Pie (Blue)", "Pie (Red)"])])"#,
                dish("Pie (Blue)", r#"cook: "Blue","#, ""),
                dish("Pie (Red)", r#"cook: "Red","#, "")
            ),
        );
        assert_eq!(short.problem, long.problem);
    }

    #[test]
    fn a_group_without_names_has_numbered_hands_and_references_stay_in_the_group() {
        let groups = r#"groups: [Group(name: "Blue", hands: 2, shifts: ["9:00 to 13:00"]), "Red"],"#;
        let dishes = format!(
            r#"{}, Dish(name: "Bread", steps: [Dress(takes: "5 min", after: ["Soup/simmer"])])"#,
            SOUP.replace("\"pot\"", "\"20 x 12 cm\"")
        );
        let own = compiled(groups, &dishes.replace("\"20 x 12 cm\"", "\"20 cm\""));
        let cooks: Vec<&str> = own.problem.cooks.iter().map(|cook| &*cook.id).collect();
        assert_eq!(cooks, ["Odile", "Ada", "Ben", "Blue cook 1", "Blue cook 2", "Red"]);
        let links: Vec<(&str, &str)> = own.problem.links.iter().map(|link| (&*link.from, &*link.to)).collect();
        assert!(
            links.contains(&("soup-red/simmer", "bread-red/dress"))
                && !links.contains(&("soup-blue/simmer", "bread-red/dress"))
        );
    }

    #[test]
    fn what_is_wrong_with_groups_is_told_at_its_place() {
        let codes = |groups: &str| {
            let faults = read(groups, SOUP).expect_err("faults").0;
            assert!(faults.iter().all(|fault| fault.at.is_some()));
            faults.into_iter().map(|fault| fault.code).collect::<Vec<_>>()
        };
        assert_eq!(codes(&TWO.replace("\"Red\"", "\"Blue\""))[0], Code::DuplicateName);
        assert_eq!(codes(&TWO.replace("hob 2", "hob 1"))[0], Code::Contradiction);
        assert_eq!(codes(&TWO.replace("hob 2", "hob 9"))[0], Code::UnknownName);
        assert_eq!(codes(&TWO.replace("\"Ben\"", "\"Bea\""))[0], Code::UnknownName);
        assert_eq!(codes(&TWO.replace("[\"Ben\"]", "[\"Ada\"]"))[0], Code::Contradiction);
        assert_eq!(codes(&TWO.replace("cooks: [\"Ben\"]", "hands: 0"))[0], Code::Absurd);
    }
}

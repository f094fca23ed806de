//! A menu from a tree.

use std::ops::RangeInclusive;

use super::fields::Fields;
use super::node::{Node, Value};
use super::reading::Reading;
use super::sorts::{self, Sort};
use super::{kitchen, step};
use crate::faults::Code;
use crate::feast::{Clock, Units};
use crate::menu::{Amount, Buy, Contains, Course, Diet, Dish, Group, Link, Measure, Menu, Named, Own};
use crate::problem::legal;
use crate::units::{self, Scale, UnitError};

/// Marks on the dial of a hob: `3`, `3 to 5`.
pub(super) const MARKS: Sort<[i64; 2]> =
    Sort { parse: marks, legal: |[low, high]| *low >= 0 && *high <= 100, range: "from 0 to 100", example: "1 to 9" };

/// As many as may be guests.
const PORTIONS: RangeInclusive<i64> = 1..=100_000;

const FILE: &str = "gratin.dish.ron";

const CONTAINS: &[(&str, Contains)] = &[
    ("meat", Contains::Meat),
    ("mince", Contains::Mince),
    ("poultry", Contains::Poultry),
    ("fish", Contains::Fish),
    ("egg", Contains::Egg),
    ("rice", Contains::Rice),
    ("beans", Contains::Beans),
];

/// A menu as far as it stands in its own text.
#[derive(Default)]
pub(super) struct Read<'n> {
    /// All but its dishes; of its units only what it says of them.
    pub(super) menu: Menu,
    /// Where it says which kitchen.
    pub(super) kitchen: Option<&'n Node>,
    /// Its dishes, some of which stand in files of their own.
    pub(super) dishes: Vec<Entry>,
    /// The units it asks for.
    pub(super) units: Option<Units>,
    /// What it says for those of its dishes that do not say it themselves.
    pub(super) usual: Usual,
}

/// What a menu says for all of its dishes.
#[derive(Clone, Copy, Default)]
pub(super) struct Usual {
    portions: Option<i64>,
    scale: Option<bool>,
}

pub(super) fn menu<'n>(r: &mut Reading<'_>, node: &'n Node) -> Read<'n> {
    let mut read = Read::default();
    let menu = &mut read.menu;
    let (name, inner) = r.variant(node);
    if name.is_some_and(|name| name.eq_ignore_ascii_case("kitchen")) {
        let head = node.span.start..node.span.end.min(node.span.start + "Kitchen".len());
        let remedy = "give the file of a menu that names this kitchen: Menu(kitchen: \"...\", ...)";
        r.fault(Code::UnknownWord, &head, "this is a kitchen, and a menu is wanted", remedy);
        r.lost = true;
        return read;
    }
    let Some(mut f) = Fields::open(r, inner, &node.span, "Menu", &[]) else { return read };
    menu.name = f.name(r, "Sunday supper").unwrap_or_default();
    read.kitchen = f.need(r, "kitchen", "\"hall.kitchen.ron\"");
    menu.guests = f.whole(r, "guests", 1..=100_000).unwrap_or(1);
    menu.children = f.whole(r, "children", 0..=menu.guests).unwrap_or(0);
    menu.diets = diets(&mut f, r);
    menu.date = f.need(r, "date", "\"2026-11-14\"").and_then(|node| r.quantity(node, &DATE)).unwrap_or_default();
    let zone = f.need(r, "zone", "\"Europe/London\"").and_then(|node| r.quantity(node, &ZONE));
    menu.zone = zone.unwrap_or_else(|| "UTC".to_owned());
    let units = [
        ("C", Units::Metric),
        ("F", Units::Customary),
        ("gas", Units::Gas),
        ("metric", Units::Metric),
        ("customary", Units::Customary),
    ];
    read.units = f.word(r, "units", &units);
    menu.opens = f.quantity(r, "opens", &sorts::CLOCK);
    menu.courses = f.list(r, "courses", course);
    if let Some(serve) = f.quantity(r, "serve", &sorts::CLOCK) {
        f.not_both(r, "courses", "serve", "each course has its own hour");
        let origin = f.origin;
        menu.courses.push(Course { origin, ..Course::new(meal(serve), serve) });
    } else if menu.courses.is_empty() && f.get(r, "serve").is_none() && f.get(r, "courses").is_none() {
        f.need(r, "serve", "\"19:00\", or courses: [Course(name: \"main\", serve: \"19:00\")]");
    }
    read.usual = Usual { portions: f.whole(r, "portions", PORTIONS), scale: f.truth(r, "scale") };
    f.need(r, "dishes", "[Dish(name: \"...\", steps: [...])]");
    read.dishes = f.list(r, "dishes", entry);
    menu.ties = f.list(r, "ties", tie);
    menu.cooks = f.list(r, "cooks", kitchen::cook);
    menu.groups = f.list(r, "groups", group);
    menu.origin = f.close(r);
    read
}

/// The units of a menu that does not say which: those of its temperatures. Nobody writes gas marks but for a gas oven.
pub(super) fn as_written(scales: &[Scale]) -> Units {
    let count = |scale| scales.iter().filter(|&&own| own == scale).count();
    match (count(Scale::Gas), count(Scale::Fahrenheit), count(Scale::Celsius)) {
        (0, fahrenheit, celsius) if fahrenheit > celsius => Units::Customary,
        (0, ..) => Units::Metric,
        _ => Units::Gas,
    }
}

const DATE: Sort<jiff::civil::Date> =
    Sort { parse: units::date, legal: |_| true, range: "from 1900 to 2500", example: "2026-11-14" };

const ZONE: Sort<String> = Sort {
    parse: |text| units::zone(text).map(|_| text.trim().to_owned()),
    legal: |_| true,
    range: "of the IANA list",
    example: "Europe/London",
};

fn course(r: &mut Reading<'_>, node: &Node) -> Option<Course> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Course", &["name", "serve"])?;
    let name = f.name(r, "main");
    let serve = f.need(r, "serve", "\"19:00\"").and_then(|node| r.quantity(node, &sorts::CLOCK));
    let weight = f.whole(r, "weight", legal::COST);
    let slip = f.quantity(r, "slip", &sorts::MINUTES);
    let together = f.quantity(r, "together", &sorts::MINUTES);
    let follows = f.quantity(r, "follows", &sorts::FOLLOWS);
    let origin = f.close(r);
    let usual = Course::new(&name?, serve?);
    Some(Course {
        weight: weight.unwrap_or(usual.weight),
        slip: slip.unwrap_or(usual.slip),
        together: together.unwrap_or(usual.together),
        follows,
        origin,
        ..usual
    })
}

/// Who of the guests does not eat everything: `{"vegetarian": 3, "no nuts": 1}`.
fn diets(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Vec<Diet> {
    let Some(node) = f.get(r, "diets") else { return Vec::new() };
    let Value::Record(None, entries) = &node.value else {
        r.shape(node, "diets and how many guests have them, such as {\"vegetarian\": 3, \"no nuts\": 1}");
        return Vec::new();
    };
    let mut diets = Vec::new();
    for (key, value) in entries {
        if let Some(guests) = r.whole(value, 1..=100_000) {
            diets.push(Diet { name: key.name.clone(), guests, origin: r.origin(&key.span) });
        }
    }
    diets
}

/// What is bought: `{"squash": "250 g each", "leeks": 6}`.
fn buys(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Vec<Buy> {
    let Some(node) = f.get(r, "buys") else { return Vec::new() };
    let Value::Record(None, entries) = &node.value else {
        r.shape(node, "what is bought and how much, such as {\"squash\": \"250 g each\", \"leeks\": 6}");
        return Vec::new();
    };
    let amount = |r: &mut Reading<'_>, value: &Node| match value.value {
        Value::Number(_) => r.whole(value, 1..=1_000_000_000).map(|pieces| Amount {
            hundredths: 100 * pieces,
            measure: Measure::Pieces(String::new()),
            each: false,
        }),
        _ => r.quantity(value, &sorts::AMOUNT),
    };
    entries
        .iter()
        .filter_map(|(key, value)| amount(r, value).map(|amount| Buy { what: key.name.clone(), amount }))
        .collect()
}

/// A dish of a menu.
pub(super) enum Entry {
    /// It stands in the menu.
    Written(Box<Dish>),
    /// It stands in a file of its own.
    Booked(Box<Booked>),
}

/// A dish in a file of its own, and what the menu says of it.
pub(super) struct Booked {
    pub(super) file: Named,
    name: Option<String>,
    course: Option<Named>,
    diets: Vec<Named>,
    cooks: Vec<Named>,
    scale: Option<bool>,
    once: Option<bool>,
}

impl Entry {
    /// The dish, with what its menu says for all. What the menu says of a dish of its own file goes before what that says.
    pub(super) fn dish(self, usual: Usual, file: impl FnOnce(&Named) -> Option<Dish>) -> Option<Dish> {
        let booked = match self {
            Entry::Written(mut dish) => {
                dish.portions = dish.portions.or(usual.portions);
                dish.scale |= usual.scale.unwrap_or(false) && dish.portions.is_some();
                return Some(*dish);
            }
            Entry::Booked(booked) => *booked,
        };
        let dish = file(&booked.file)?;
        let own = |said: Vec<Named>, written: &[Named]| if said.is_empty() { written.to_vec() } else { said };
        Some(Dish {
            name: booked.name.unwrap_or_else(|| dish.name.clone()),
            course: booked.course.or_else(|| dish.course.clone()),
            diets: own(booked.diets, &dish.diets),
            cooks: own(booked.cooks, &dish.cooks),
            scale: booked.scale.or(usual.scale).unwrap_or(true),
            once: booked.once.unwrap_or(dish.once),
            ..dish
        })
    }
}

fn entry(r: &mut Reading<'_>, node: &Node) -> Option<Entry> {
    if let Value::Text(_) = node.value {
        let file = r.named(node, FILE)?;
        let (diets, cooks) = (Vec::new(), Vec::new());
        return Some(Entry::Booked(Box::new(Booked {
            file,
            name: None,
            course: None,
            diets,
            cooks,
            scale: None,
            once: None,
        })));
    }
    let (_, inner) = r.variant(node);
    let in_file = matches!(&inner.value, Value::Record(_, fields) if fields.iter().any(|(key, _)| key.name == "dish"));
    if !in_file {
        return dish(r, node).map(|dish| Entry::Written(Box::new(dish)));
    }
    let mut f = Fields::open(r, inner, &node.span, "Dish of a file of its own", &[])?;
    let file = f.need(r, "dish", FILE).and_then(|node| r.named(node, FILE));
    let name = f.text(r, "name");
    let course = f.get(r, "course").and_then(|node| r.named(node, "main"));
    let diets = f.list(r, "for", |r, node| r.named(node, "vegetarian"));
    let cooks = f.list(r, "cook", |r, node| r.named(node, "Odile"));
    let scale = f.truth(r, "scale");
    let once = f.truth(r, "once");
    f.close(r);
    Some(Entry::Booked(Box::new(Booked { file: file?, name, course, diets, cooks, scale, once })))
}

/// A dish from a file of its own, which says for how many it is written.
pub(super) fn booked(r: &mut Reading<'_>, node: &Node) -> Option<Dish> {
    let dish = dish(r, node)?;
    if dish.portions.is_none() {
        let head = node.span.start..node.span.end.min(node.span.start + "Dish".len());
        let cause = "\"portions\" is missing in this Dish, which stands in a file of its own";
        r.fault(Code::MissingField, &head, cause, "say for how many it is written: portions: 8");
    }
    Some(dish)
}

fn dish(r: &mut Reading<'_>, node: &Node) -> Option<Dish> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Dish", &["name", "steps"])?;
    let name = f.name(r, "Roast celeriac");
    let course = f.get(r, "course").and_then(|node| r.named(node, "main"));
    let contains = f.list(r, "contains", |r, node| r.word(node, CONTAINS));
    let allergens = f.list(r, "allergens", |r, node| r.text(node, "hazelnut"));
    let without = f.list(r, "without", |r, node| r.text(node, "egg"));
    let buys = buys(&mut f, r);
    let diets = f.list(r, "for", |r, node| r.named(node, "vegetarian"));
    let cooks = f.list(r, "cook", |r, node| r.named(node, "Odile"));
    let portions = f.whole(r, "portions", PORTIONS);
    let scale = f.truth(r, "scale");
    let once = f.truth(r, "once").unwrap_or(false);
    f.need(r, "steps", "[Prep(\"Peel and dice\", \"20 min\")]");
    let steps = f.list(r, "steps", step::step);
    let origin = f.close(r);
    let scale = scale.unwrap_or(false);
    Some(Dish {
        once,
        share: None,
        name: name?,
        course,
        contains,
        allergens,
        without,
        diets,
        buys,
        cooks,
        portions,
        scale,
        steps,
        origin,
    })
}

/// What a menu's only course is called, by its hour.
fn meal(serve: Clock) -> &'static str {
    match (serve.minute / 60, serve.minute % 60) {
        (..10, _) | (10, ..30) => "breakfast",
        (..15, _) => "lunch",
        (..17, _) => "tea",
        _ => "supper",
    }
}

/// A group: its name alone, or what is its own.
fn group(r: &mut Reading<'_>, node: &Node) -> Option<Group> {
    if let Value::Text(_) = node.value {
        let named = r.named(node, "Bean row")?;
        return Some(Group { origin: named.origin, ..Group::new(&named.name) });
    }
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Group", &["name", "shifts"])?;
    let name = f.name(r, "Bean row");
    let shifts = f.list(r, "shifts", kitchen::stretch);
    let hands = f.whole(r, "hands", 1..=20);
    let cooks = f.list(r, "cooks", |r, node| r.named(node, "Odile"));
    f.not_both(r, "cooks", "shifts", "the cooks have shifts of their own");
    f.not_both(r, "cooks", "hands", "the cooks are its hands");
    let places = owns(&mut f, r, "places");
    let pans = owns(&mut f, r, "pans");
    let origin = f.close(r);
    Some(Group { name: name?, shifts, hands: hands.unwrap_or(1), cooks, places, pans, origin })
}

/// What is a group's own: `["hob 1"]`, or `{"hob": "hob 1"}` with what the steps call it.
fn owns(f: &mut Fields<'_>, r: &mut Reading<'_>, field: &'static str) -> Vec<Own> {
    let Some(node) = f.get(r, field) else { return Vec::new() };
    match &node.value {
        Value::Record(None, entries) => entries
            .iter()
            .filter_map(|(key, value)| Some(Own { called: Some(key.name.clone()), is: r.named(value, "hob 1")? }))
            .collect(),
        _ => r.items(node).iter().filter_map(|item| Some(Own { called: None, is: r.named(item, "hob 1")? })).collect(),
    }
}

fn tie(r: &mut Reading<'_>, node: &Node) -> Option<Link> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Tie", &["from", "to", "gap"])?;
    let from = f.need(r, "from", "\"dish/step\"").and_then(|node| r.named(node, "dish/step"));
    let to = f.need(r, "to", "\"dish/step\"").and_then(|node| r.named(node, "dish/step"));
    let gap = f.quantity(r, "gap", &sorts::GAP).unwrap_or(crate::menu::Interval { min: 0, max: None });
    let keeps = f.get(r, "keeps").and_then(|node| step::keeps(r, node));
    let origin = f.close(r);
    Some(Link { from: from?, to: to?, gap, keeps, origin })
}

fn marks(text: &str) -> Result<[i64; 2], UnitError> {
    let wrong = || UnitError::NotAQuantity { found: text.trim().to_owned() };
    let mark = |text: &str| text.trim().parse::<i64>().map_err(|_| wrong());
    let (low, high) = text.split_once(" to ").or_else(|| text.split_once('–')).unwrap_or((text, text));
    match (mark(low)?, mark(high)?) {
        (low, high) if low <= high => Ok([low, high]),
        _ => Err(UnitError::UpsideDown),
    }
}

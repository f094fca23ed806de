//! A menu from a tree.

use super::fields::Fields;
use super::node::{Node, Value};
use super::reading::Reading;
use super::sorts::{self, Sort};
use super::{kitchen, step};
use crate::faults::Code;
use crate::feast::Units;
use crate::menu::{Amount, Buy, Contains, Course, Diet, Dish, Link, Measure, Menu};
use crate::problem::legal;
use crate::units::{self, Scale, UnitError};

/// Marks on the dial of a hob: `3`, `3 to 5`.
pub(super) const MARKS: Sort<[i64; 2]> =
    Sort { parse: marks, legal: |[low, high]| *low >= 0 && *high <= 100, range: "from 0 to 100", example: "1 to 9" };

const CONTAINS: &[(&str, Contains)] = &[
    ("meat", Contains::Meat),
    ("mince", Contains::Mince),
    ("poultry", Contains::Poultry),
    ("fish", Contains::Fish),
    ("egg", Contains::Egg),
    ("rice", Contains::Rice),
    ("beans", Contains::Beans),
];

/// The menu, and the node that says which kitchen.
pub(super) fn menu<'n>(r: &mut Reading<'_>, node: &'n Node) -> (Menu, Option<&'n Node>) {
    let mut menu = Menu::default();
    let (name, inner) = r.variant(node);
    if name.is_some_and(|name| name.eq_ignore_ascii_case("kitchen")) {
        let head = node.span.start..node.span.end.min(node.span.start + "Kitchen".len());
        let remedy = "give the file of a menu that names this kitchen: Menu(kitchen: \"...\", ...)";
        r.fault(Code::UnknownWord, &head, "this is a kitchen, and a menu is wanted", remedy);
        r.lost = true;
        return (menu, None);
    }
    let Some(mut f) = Fields::open(r, inner, &node.span, "Menu", &[]) else { return (menu, None) };
    menu.name = f.name(r, "Sunday supper").unwrap_or_default();
    let kitchen = f.need(r, "kitchen", "\"hall.kitchen.ron\"");
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
    let units = f.word(r, "units", &units);
    menu.opens = f.quantity(r, "opens", &sorts::CLOCK);
    menu.courses = f.list(r, "courses", course);
    if let Some(serve) = f.quantity(r, "serve", &sorts::CLOCK) {
        f.not_both(r, "courses", "serve", "each course has its own hour");
        let origin = f.origin;
        menu.courses.push(Course { origin, ..Course::new("supper", serve) });
    } else if menu.courses.is_empty() && f.get(r, "serve").is_none() && f.get(r, "courses").is_none() {
        f.need(r, "serve", "\"19:00\", or courses: [Course(name: \"main\", serve: \"19:00\")]");
    }
    f.need(r, "dishes", "[Dish(name: \"...\", steps: [...])]");
    menu.dishes = f.list(r, "dishes", dish);
    menu.ties = f.list(r, "ties", tie);
    menu.cooks = f.list(r, "cooks", kitchen::cook);
    menu.units = units.unwrap_or_else(|| as_written(&r.scales));
    menu.origin = f.close(r);
    (menu, kitchen)
}

/// The units of a menu that does not say which: those of its temperatures. Nobody writes gas marks but for a gas oven.
fn as_written(scales: &[Scale]) -> Units {
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
    f.need(r, "steps", "[Prep(\"Peel and dice\", \"20 min\")]");
    let steps = f.list(r, "steps", step::step);
    let origin = f.close(r);
    Some(Dish { name: name?, course, contains, allergens, without, diets, buys, cooks, steps, origin })
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

//! A feast as the language has it.
//!
//! Every field is taken apart by name, so that a new one cannot be forgotten here.

use std::collections::BTreeMap;

use super::{Form, Record, Value, said, step};
use crate::cook::safety::{Premises, Region};
use crate::feast::{Feast, Units};
use crate::kitchen::{
    Appliance, ApplianceKind, BurnersSpec, CavitySort, CavitySpec, Cook, Kitchen, Pan, Past, TopSpec, USUAL_DIAL,
};
use crate::menu::{Buy, Course, Diet, Dish, Group, Link, Menu, Named, Own};

/// A menu with its kitchen written out in it.
///
/// Read again it is the same feast, but for where its parts were written. It holds what a menu can say: what the compiler alone
/// puts into a feast (the stages of a roast that it worked out) has no words in the language and is left out.
///
/// ```
/// use rangewright_models::{compile, examples, read, write};
/// let supper = examples::ALL[1];
/// let feast = read::feast(supper.menu, supper.menu_name, |name| supper.kitchen_text(name))?;
/// let text = format!("{:#}", write::of_feast(&feast));
/// let again = compile::feast(&text, "written", |_| Err("it stands in the menu".to_owned()))?;
/// assert_eq!(again.problem, compile::compile(&feast)?.problem);
/// # Ok::<(), rangewright_models::faults::Faults>(())
/// ```
pub fn of_feast(feast: &Feast) -> Record {
    let Feast { kitchen, menu, sources: _ } = feast;
    of_menu(menu, of_kitchen(kitchen))
}

/// A menu whose kitchen is a record, or the name of a file.
pub fn of_menu(menu: &Menu, kitchen: impl Into<Value>) -> Record {
    let Menu {
        name,
        guests,
        children,
        diets,
        date,
        zone,
        units,
        opens,
        courses,
        dishes,
        ties,
        cooks,
        groups,
        origin: _,
    } = menu;
    let units = match units {
        Units::Metric => "C",
        Units::Customary => "F",
        Units::Gas => "gas",
    };
    let diets = diets.iter().map(|Diet { name, guests, origin: _ }| (name.clone(), Value::from(*guests))).collect();
    Record::new("Menu")
        .with("name", name.as_str())
        .with("kitchen", kitchen)
        .with("guests", *guests)
        .and("children", (*children > 0).then_some(*children))
        .and("diets", pairs(diets))
        .with("date", date.to_string())
        .with("zone", zone.as_str())
        .with("units", units)
        .and("opens", opens.map(said::clock))
        .and_all("courses", courses.iter().map(course).collect())
        .with("dishes", dishes.iter().map(of_dish).collect::<Vec<_>>())
        .and_all("ties", ties.iter().map(tie).collect())
        .and_all("cooks", cooks.iter().map(cook).collect())
        .and_all("groups", groups.iter().map(group).collect())
}

/// A kitchen, for a file of its own or for [`of_menu`].
pub fn of_kitchen(kitchen: &Kitchen) -> Record {
    let Kitchen { name, places, pans, pools, region, premises, log, cooks, origin: _ } = kitchen;
    let usual = Premises::default();
    Record::new("Kitchen")
        .with("name", name.as_str())
        .with("places", places.iter().map(appliance).collect::<Vec<_>>())
        .and_all("pans", pans.iter().map(pan).collect())
        .and("pools", amounts(pools))
        .and("region", other(region, &Region::default()).map(|own| said::word(own).to_uppercase()))
        .and_if("licensed", premises.licensed)
        .and("room", other(premises.room_c, usual.room_c).map(said::celsius))
        .and("fridge", other(premises.fridge_c, usual.fridge_c).map(said::celsius))
        .and_all("log", log.iter().map(past).collect())
        .and_all("cooks", cooks.iter().map(cook).collect())
}

/// A dish, for a file of its own or for a menu.
pub fn of_dish(dish: &Dish) -> Record {
    let Dish {
        name,
        course,
        contains,
        allergens,
        without,
        diets,
        buys,
        cooks,
        portions,
        scale,
        once,
        share: _,
        steps,
        origin: _,
    } = dish;
    let buys = buys.iter().map(|Buy { what, amount }| (what.clone(), said::amount(amount))).collect();
    Record::new("Dish")
        .with("name", name.as_str())
        .and("course", course.as_ref().map(|own| own.name.as_str()))
        .and_all("contains", contains.iter().map(said::word).collect())
        .and_all("allergens", texts(allergens))
        .and_all("without", texts(without))
        .and_all("for", names(diets))
        .and("buys", pairs(buys))
        .and_all("cook", names(cooks))
        .and("portions", *portions)
        .and_if("scale", *scale)
        .and_if("once", *once)
        .with("steps", steps.iter().map(step::step).collect::<Vec<_>>())
}

fn course(course: &Course) -> Record {
    let usual = Course::new(&course.name, course.serve);
    let Course { name, serve, weight, slip, together, follows, origin: _ } = course;
    Record::new("Course")
        .with("name", name.as_str())
        .with("serve", said::clock(*serve))
        .and("weight", other(*weight, usual.weight))
        .and("slip", other(*slip, usual.slip).map(said::minutes))
        .and("together", other(*together, usual.together).map(said::minutes))
        .and("follows", follows.map(said::interval))
}

fn group(group: &Group) -> Record {
    let Group { name, shifts, hands, cooks, places, pans, origin: _ } = group;
    Record::new("Group")
        .with("name", name.as_str())
        .and_all("shifts", shifts.iter().map(said::stretch).collect())
        .and("hands", other(*hands, 1))
        .and_all("cooks", names(cooks))
        .and("places", owns(places))
        .and("pans", owns(pans))
}

/// What is a group's own: with what the steps call it, or without.
fn owns(owns: &[Own]) -> Option<Value> {
    let called = owns.iter().filter_map(|own| Some((own.called.clone()?, Value::from(own.is.name.as_str()))));
    pairs(called.collect()).or_else(|| {
        let bare: Vec<&str> = owns.iter().map(|own| own.is.name.as_str()).collect();
        (!bare.is_empty()).then(|| Value::from(bare))
    })
}

fn tie(tie: &Link) -> Record {
    let Link { from, to, gap, keeps, origin: _ } = tie;
    Record::new("Tie")
        .with("from", from.name.as_str())
        .with("to", to.name.as_str())
        .with("gap", said::interval(*gap))
        .and("keeps", keeps.as_ref().map(said::keeps))
}

fn appliance(appliance: &Appliance) -> Record {
    let Appliance { name, kind, draws, origin: _ } = appliance;
    let record = match kind {
        ApplianceKind::Cavity(spec) => cavity(name, spec),
        ApplianceKind::Burners(BurnersSpec { count, dial, pans }) => Record::new("Burners")
            .with("name", name.as_str())
            .with("count", *count)
            .and("dial", other(*dial, USUAL_DIAL).map(said::marks))
            .and("pans", other(*pans, BurnersSpec::USUAL_PANS).map(said::lengths)),
        ApplianceKind::Top(TopSpec { dial, parts }) => {
            let part = |own: &crate::kitchen::TopPart| {
                Record::new("Part")
                    .with("name", own.name.as_str())
                    .with("size", said::size(&own.size))
                    .with("levels", said::marks(own.levels))
            };
            let parts: Vec<Record> = parts.iter().map(part).collect();
            let top =
                Record::new("Top").with("name", name.as_str()).and("dial", other(*dial, USUAL_DIAL).map(said::marks));
            top.with("parts", parts)
        }
    };
    record.and("draws", amounts(draws))
}

fn cavity(name: &str, spec: &CavitySpec) -> Record {
    let CavitySpec { sort, inside, racks, clearance, bears, range, at_opening, rise, fall, settle, cool_off, heats } =
        spec;
    let usual = CavitySpec::usual(*sort, *inside);
    let record = Record::new(match sort {
        CavitySort::Oven => "Oven",
        CavitySort::Drawer => "Drawer",
        CavitySort::Grill => "Grill",
        CavitySort::Spit => "Spit",
    });
    record
        .with("name", name)
        .with("inside", said::size(inside))
        .and("racks", other(*racks, usual.racks))
        .and("clearance", other(*clearance, usual.clearance).map(said::length))
        .and("bears", other(*bears, usual.bears).map(said::weight))
        .and("range", other(*range, usual.range).map(said::range))
        .and("at_opening", other(*at_opening, usual.at_opening).map(said::celsius))
        .and("rise", other(*rise, usual.rise).map(said::rate))
        .and("fall", other(*fall, usual.fall).map(said::rate))
        .and("settle", other(*settle, usual.settle).map(said::minutes))
        .and("cool_off", other(*cool_off, usual.cool_off).map(said::minutes))
        .and("heats", other(heats, &usual.heats).map(|own| own.iter().map(said::word).collect::<Vec<_>>()))
}

/// What differs from what is not said.
fn other<T: PartialEq>(own: T, usual: T) -> Option<T> {
    (own != usual).then_some(own)
}

fn pan(pan: &Pan) -> Record {
    let Pan { name, size, count, origin: _ } = pan;
    Record::new("Pan").with("name", name.as_str()).with("size", said::pan(*size)).and("count", *count)
}

fn cook(cook: &Cook) -> Record {
    let Cook { name, shifts, away, only, origin: _ } = cook;
    Record::new("Cook")
        .with("name", name.as_str())
        .and_all("shifts", shifts.iter().map(said::stretch).collect())
        .and_all("away", away.iter().map(said::stretch).collect())
        .and_all("only", texts(only))
}

fn past(past: &Past) -> Record {
    let Past { piece, at, heat, took, pulled, origin: _ } = past;
    step::piece(Record::new("Past"), piece)
        .with("at", said::degrees(*at))
        .with("heat", said::word(heat))
        .with("took", said::minutes(*took))
        .with("pulled", said::degrees(*pulled))
}

pub(super) fn names(names: &[Named]) -> Vec<&str> {
    names.iter().map(|own| own.name.as_str()).collect()
}

fn texts(texts: &[String]) -> Vec<&str> {
    texts.iter().map(String::as_str).collect()
}

pub(super) fn amounts(amounts: &BTreeMap<String, i64>) -> Option<Value> {
    pairs(amounts.iter().map(|(name, amount)| (name.clone(), Value::from(*amount))).collect())
}

fn pairs(pairs: Vec<(String, Value)>) -> Option<Value> {
    (!pairs.is_empty()).then_some(Value(Form::Pairs(pairs)))
}

//! A kitchen from a tree.

use std::collections::BTreeMap;
use std::ops::Range;

use super::fields::Fields;
use super::node::{Node, Value};
use super::reading::Reading;
use super::sorts;
use crate::cook::safety::{Premises, Region};
use crate::faults::Code;
use crate::kitchen::{
    Appliance, ApplianceKind, BurnersSpec, CavitySort, CavitySpec, Cook, Kitchen, Pan, SHELF, Stretch, TopPart,
    TopSpec, USUAL_DIAL,
};
use crate::problem::{Heat, legal};

pub(super) const HEATS: &[(&str, Heat)] = &[
    ("fan", Heat::Fan),
    ("static", Heat::Static),
    ("conventional", Heat::Static),
    ("convection", Heat::Fan),
    ("broil", Heat::Grill),
    ("steam", Heat::Steam),
    ("grill", Heat::Grill),
    ("spit", Heat::Spit),
];

const REGIONS: &[(&str, Region)] =
    &[("US", Region::Us), ("UK", Region::Uk), ("AU", Region::Au), ("NZ", Region::Nz), ("AU/NZ", Region::Au)];

pub(super) fn kitchen(r: &mut Reading<'_>, node: &Node) -> Kitchen {
    let (_, inner) = r.variant(node);
    let Some(mut f) = Fields::open(r, inner, &node.span, "Kitchen", &[]) else { return Kitchen::default() };
    let name = f.text(r, "name").unwrap_or_else(|| "Kitchen".to_owned());
    f.need(r, "places", "[Oven(name: \"oven\", inside: \"46 x 40 x 36 cm\")]");
    let places = f.list(r, "places", appliance);
    let pans = f.list(r, "pans", pan);
    let mut pools = amounts(&mut f, r, "pools");
    if let Some(shelves) = f.whole(r, "fridge_shelves", 0..=1_000) {
        pools.insert(SHELF.to_owned(), shelves);
    }
    let region = f.word(r, "region", REGIONS).unwrap_or_default();
    let usual = Premises::default();
    let premises = Premises {
        licensed: f.truth(r, "licensed").unwrap_or(usual.licensed),
        room_c: f.quantity(r, "room", &sorts::TEMPERATURE).unwrap_or(usual.room_c),
        fridge_c: f.quantity(r, "fridge", &sorts::TEMPERATURE).unwrap_or(usual.fridge_c),
    };
    let log = f.list(r, "log", super::joint::past);
    let cooks = f.list(r, "cooks", cook);
    let origin = f.close(r);
    Kitchen { log, region, premises, name, places, pans, pools, cooks, origin }
}

/// How much of what: `{"mixer": 1, "hall socket": "3 kW"}`; a list of names takes one of each.
pub(super) fn amounts(f: &mut Fields<'_>, r: &mut Reading<'_>, field: &'static str) -> BTreeMap<String, i64> {
    let mut amounts = BTreeMap::new();
    let Some(node) = f.get(r, field) else { return amounts };
    match &node.value {
        Value::Record(_, entries) => {
            for (key, value) in entries {
                let amount = match value.value {
                    Value::Number(_) => r.whole(value, legal::POOL),
                    _ => r.quantity(value, &sorts::POWER),
                };
                if let Some(amount) = amount {
                    amounts.insert(key.name.clone(), amount);
                }
            }
        }
        _ => {
            for item in r.items(node) {
                if let Some(name) = r.text(item, "mixer") {
                    amounts.insert(name, 1);
                }
            }
        }
    }
    amounts
}

/// Reads an appliance from its record; the range is all of it, its name included.
type Read = fn(&mut Reading<'_>, &Node, &Range<usize>) -> Option<Appliance>;

fn appliance(r: &mut Reading<'_>, node: &Node) -> Option<Appliance> {
    let sorts: &[(&str, Read)] = &[
        ("Oven", |r, node, whole| cavity(r, node, whole, CavitySort::Oven)),
        ("Drawer", |r, node, whole| cavity(r, node, whole, CavitySort::Drawer)),
        ("Grill", |r, node, whole| cavity(r, node, whole, CavitySort::Grill)),
        ("Spit", |r, node, whole| cavity(r, node, whole, CavitySort::Spit)),
        ("Burners", burners),
        ("Top", top),
    ];
    let (name, inner) = r.variant(node);
    let Some(name) = name else {
        r.shape(node, "one of Oven(...), Drawer(...), Grill(...), Spit(...), Burners(...) or Top(...)");
        return None;
    };
    let named = Node { span: node.span.clone(), value: Value::Word(name.to_owned()) };
    r.word(&named, sorts)?(r, inner, &node.span)
}

fn cavity(r: &mut Reading<'_>, node: &Node, whole: &Range<usize>, sort: CavitySort) -> Option<Appliance> {
    let what = match sort {
        CavitySort::Oven => "Oven",
        CavitySort::Drawer => "Drawer",
        CavitySort::Grill => "Grill",
        CavitySort::Spit => "Spit",
    };
    let mut f = Fields::open(r, node, whole, what, &["name", "inside"])?;
    let name = f.name(r, "big oven");
    let inside = f.need(r, "inside", "\"46 x 40 x 36 cm\"").and_then(|node| r.quantity(node, &sorts::INSIDE));
    let mut spec = CavitySpec::usual(sort, inside.unwrap_or([460, 400, 360]));
    set(&mut spec.racks, f.whole(r, "racks", legal::RACKS));
    set(&mut spec.clearance, f.quantity(r, "clearance", &sorts::LENGTH_OR_NONE));
    set(&mut spec.bears, f.quantity(r, "bears", &sorts::WEIGHT));
    set(&mut spec.range, f.quantity(r, "range", &sorts::TEMPERATURES));
    set(&mut spec.at_opening, f.quantity(r, "at_opening", &sorts::TEMPERATURE));
    set(&mut spec.rise, f.quantity(r, "rise", &sorts::RATE_OF_HEAT));
    set(&mut spec.fall, f.quantity(r, "fall", &sorts::RATE_OF_HEAT));
    set(&mut spec.settle, f.quantity(r, "settle", &sorts::MINUTES));
    set(&mut spec.cool_off, f.quantity(r, "cool_off", &sorts::MINUTES));
    let heats = f.list(r, "heats", |r, node| r.word(node, HEATS));
    if !heats.is_empty() {
        spec.heats = heats;
    }
    finish(f, r, name?, ApplianceKind::Cavity(spec), inside.is_some())
}

fn burners(r: &mut Reading<'_>, node: &Node, whole: &Range<usize>) -> Option<Appliance> {
    let mut f = Fields::open(r, node, whole, "Burners", &["name", "count"])?;
    let name = f.name(r, "burners");
    let count = f.whole(r, "count", 1..=*legal::COUNT.end()).unwrap_or(1);
    let dial = dial(&mut f, r, "dial").unwrap_or(USUAL_DIAL);
    let pans = f.quantity(r, "pans", &sorts::LENGTHS).unwrap_or(BurnersSpec::USUAL_PANS);
    finish(f, r, name?, ApplianceKind::Burners(BurnersSpec { count, dial, pans }), true)
}

fn top(r: &mut Reading<'_>, node: &Node, whole: &Range<usize>) -> Option<Appliance> {
    let mut f = Fields::open(r, node, whole, "Top", &["name", "size"])?;
    let name = f.name(r, "solid top");
    let dial = dial(&mut f, r, "dial").unwrap_or(USUAL_DIAL);
    let size = f.quantity(r, "size", &sorts::AREA);
    let mut parts = f.list(r, "parts", |r, node| top_part(r, node, dial));
    f.not_both(r, "size", "parts", "the parts have their own sizes");
    if parts.is_empty() {
        let Some(size) = size else {
            f.need(
                r,
                "size",
                "\"60 x 40 cm\", or parts: [Part(name: \"hot end\", size: \"30 x 40 cm\", levels: \"6 to 9\")]",
            );
            f.close(r);
            return None;
        };
        parts.push(TopPart { name: name.clone().unwrap_or_default(), size, levels: dial, origin: f.origin });
    }
    finish(f, r, name?, ApplianceKind::Top(TopSpec { dial, parts }), true)
}

fn top_part(r: &mut Reading<'_>, node: &Node, whole: [i64; 2]) -> Option<TopPart> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Part", &["name", "size", "levels"])?;
    let name = f.name(r, "hot end");
    let size = f.need(r, "size", "\"30 x 40 cm\"").and_then(|node| r.quantity(node, &sorts::AREA));
    let levels = dial(&mut f, r, "levels").unwrap_or(whole);
    let origin = f.close(r);
    Some(TopPart { name: name?, size: size?, levels, origin })
}

/// Two marks on a dial: `"1 to 9"`.
fn dial(f: &mut Fields<'_>, r: &mut Reading<'_>, name: &'static str) -> Option<[i64; 2]> {
    f.get(r, name).and_then(|node| r.quantity(node, &super::menu::MARKS))
}

fn finish(
    mut f: Fields<'_>,
    r: &mut Reading<'_>,
    name: String,
    kind: ApplianceKind,
    complete: bool,
) -> Option<Appliance> {
    let draws = amounts(&mut f, r, "draws");
    let origin = f.close(r);
    complete.then_some(Appliance { name, kind, draws, origin })
}

fn pan(r: &mut Reading<'_>, node: &Node) -> Option<Pan> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Pan", &["name", "size", "count"])?;
    let name = f.name(r, "roasting tin");
    let size = f.need(r, "size", "\"40 x 30 x 8 cm\"").and_then(|node| r.quantity(node, &sorts::PAN));
    let count = f.whole(r, "count", 1..=*legal::COUNT.end());
    let origin = f.close(r);
    Some(Pan { name: name?, size: size?, count, origin })
}

/// A cook: a name alone, or what else is to be said of them.
pub(super) fn cook(r: &mut Reading<'_>, node: &Node) -> Option<Cook> {
    if let Value::Text(_) = node.value {
        let named = r.named(node, "Ada")?;
        return Some(Cook {
            name: named.name,
            shifts: Vec::new(),
            away: Vec::new(),
            only: Vec::new(),
            origin: named.origin,
        });
    }
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Cook", &["name", "shifts"])?;
    let name = f.name(r, "Ada");
    let shifts = f.list(r, "shifts", stretch);
    if let Some(said) = f.get(r, "shifts").filter(|said| matches!(&said.value, Value::List(items) if items.is_empty()))
    {
        r.fault(Code::NothingIn, &said.span, "this cook has no shifts", "add one: [\"13:00 to 21:30\"]");
    }
    let away = f.list(r, "away", stretch);
    let only = f.list(r, "only", |r, node| Some(r.word(node, &super::step::kinds())?.word().to_owned()));
    let origin = f.close(r);
    Some(Cook { name: name?, shifts, away, only, origin })
}

/// From one clock time to another.
pub(super) fn stretch(r: &mut Reading<'_>, node: &Node) -> Option<Stretch> {
    let [from, to] = r.quantity(node, &sorts::STRETCH)?;
    Some(Stretch { from, to, origin: r.origin(&node.span) })
}

fn set<T>(field: &mut T, said: Option<T>) {
    if let Some(value) = said {
        *field = value;
    }
}

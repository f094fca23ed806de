//! A step and its ways from a tree.

use super::fields::Fields;
use super::node::{Node, Value};
use super::reading::Reading;
use super::sorts::{self, Sort};
use super::{joint, kitchen, menu};
use crate::faults::Code;
use crate::feast::Clock;
use crate::menu::{Keeps, Kind, Level, Named, PanChoice, Stand, Step, Touch, Way, With};
use crate::problem::{Rack, Wait, legal};
use crate::units::Temperature;

/// A single temperature on a dial stands for itself and so much on either side: a thermostat keeps no better (common
/// practice, no source).
const EITHER_SIDE: i64 = 5;

const RACKS: &[(&str, Rack)] = &[("upper", Rack::Upper), ("middle", Rack::Middle), ("lower", Rack::Lower)];
const LEVELS: &[(&str, Level)] =
    &[("low", Level::Low), ("gentle", Level::Gentle), ("medium", Level::Medium), ("high", Level::High)];
const STANDS: &[(&str, Stand)] = &[
    ("refrigerator", Stand::Refrigerator),
    ("fridge", Stand::Refrigerator),
    ("counter", Stand::Counter),
    ("warm", Stand::Warm),
    ("hob", Stand::Hob),
];
const DAY: Sort<Clock> = Sort {
    parse: |text| crate::units::clock(&format!("{text} 0:00")),
    legal: |_| true,
    range: "within 30 days of the feast",
    example: "day before",
};

/// The words for kinds of steps that have a name of their own.
pub(super) fn kinds() -> Vec<(&'static str, Kind)> {
    let named = Kind::ALL.iter().map(|kind| (kind.word(), kind.clone()));
    named.chain(Kind::SYNONYMS.iter().cloned()).collect()
}

pub(super) fn step(r: &mut Reading<'_>, node: &Node) -> Option<Step> {
    let (name, inner) = r.variant(node);
    let Some(name) = name else {
        r.shape(node, "a step such as Prep(\"Peel and dice\", \"20 min\")");
        return None;
    };
    let mut kinds = kinds();
    kinds.push(("joint", Kind::Roast));
    kinds.push(("step", Kind::Other("step".to_owned())));
    let named = Node { span: node.span.start..node.span.start + name.len(), value: Value::Word(name.to_owned()) };
    let mut kind = r.word(&named, &kinds)?;
    if name.eq_ignore_ascii_case("joint") {
        return joint_step(r, inner, node, name);
    }
    let mut f = Fields::open(r, inner, &node.span, name, &["do", "takes"])?;
    if matches!(kind, Kind::Other(_)) {
        kind = Kind::Other(f.need(r, "kind", "\"smoke\"").and_then(|node| r.text(node, "smoke")).unwrap_or_default());
    }
    let id = f.text(r, "id");
    let title = f.text(r, "do");
    let after = f.get(r, "after").map(|node| r.items(node).iter().filter_map(|item| r.named(item, "roast")).collect());
    let gap = f.quantity(r, "gap", &sorts::GAP);
    let stay = f.truth(r, "stay");
    let day = f.quantity(r, "on", &DAY);
    let from = f.quantity(r, "from", &sorts::CLOCK);
    let by = f.quantity(r, "by", &sorts::CLOCK);
    let earliest = from.or(day);
    let latest = by.or(day.map(|day| Clock { day: day.day + 1, ..day }));
    let keeps_said = f.get(r, "keeps").and_then(|node| keeps(r, node));
    let waits = f.word(r, "waits", STANDS);
    let likes = f.quantity(r, "likes", &sorts::MINUTES);
    let cooks = cooks(&mut f, r);
    let with = f.list(r, "with", with);
    let look = f.text(r, "look");
    let note = f.text(r, "note");
    let way_said = way_fields(&mut f, r);
    f.not_both(r, "likes", "stretch", "both say what stretching costs");
    let accepts = joint::accepts(&mut f, r);
    let cools = joint::cools(&mut f, r);
    let pans = f.whole(r, "pans", 1..=100);
    let batches = f.whole(r, "batches", 1..=50);
    f.not_both(r, "pans", "batches", "pans are together or in turn as the plan has it, batches one after the other");
    let ways = f.list(r, "ways", way);
    let origin = f.close(r);
    Some(Step {
        kind,
        id,
        title,
        after,
        gap,
        stay,
        earliest,
        latest,
        keeps: keeps_said,
        waits,
        likes,
        cooks,
        with,
        look,
        note,
        accepts,
        cools,
        pans,
        batches,
        way: way_said,
        ways,
        origin,
        ..Step::new(Kind::Roast, 1)
    })
}

/// A roast that is worked out: of a step's own fields it has those that the model does not answer.
fn joint_step(r: &mut Reading<'_>, inner: &Node, node: &Node, name: &str) -> Option<Step> {
    let mut f = Fields::open(r, inner, &node.span, name, &["do"])?;
    let joint = joint::joint(&mut f, r);
    let id = f.text(r, "id");
    let title = f.text(r, "do");
    let after = f.get(r, "after").map(|node| r.items(node).iter().filter_map(|item| r.named(item, "roast")).collect());
    let gap = f.quantity(r, "gap", &sorts::GAP);
    let earliest = f.quantity(r, "from", &sorts::CLOCK);
    let latest = f.quantity(r, "by", &sorts::CLOCK);
    let keeps_said = f.get(r, "keeps").and_then(|node| keeps(r, node));
    let waits = f.word(r, "waits", STANDS);
    let likes = f.quantity(r, "likes", &sorts::MINUTES);
    let cooks = cooks(&mut f, r);
    let look = f.text(r, "look");
    let note = f.text(r, "note");
    let mut way = Way { origin: f.origin, ..Way::default() };
    way.places = f.list(r, "place", |r, node| r.named(node, "big oven"));
    way.heats = f.list(r, "heat", |r, node| r.word(node, kitchen::HEATS));
    if let Some(node) = f.need(r, "pan", "\"roasting tin\"") {
        way.pan = pan(r, node);
    }
    r.lost |= way.pan.is_none();
    way.cost = f.whole(r, "cost", legal::COST);
    way.touches = f.list(r, "touches", touch);
    way.rack = f.word(r, "rack", RACKS);
    way.wet = f.truth(r, "wet");
    way.uses = kitchen::amounts(&mut f, r, "uses");
    let pans = f.whole(r, "pans", 1..=100);
    let origin = f.close(r);
    way.pan.as_ref()?;
    Some(Step {
        joint: Some(Box::new(joint?)),
        id,
        title,
        after,
        gap,
        earliest,
        latest,
        keeps: keeps_said,
        waits,
        likes,
        cooks,
        look,
        note,
        pans,
        way,
        origin,
        ..Step::new(Kind::Roast, 1)
    })
}

fn way(r: &mut Reading<'_>, node: &Node) -> Option<Way> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Way", &["at", "takes"])?;
    let way = way_fields(&mut f, r);
    f.close(r);
    Some(way)
}

fn way_fields(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Way {
    let mut way = Way { origin: f.origin, ..Way::default() };
    way.places = f.list(r, "place", |r, node| r.named(node, "big oven"));
    way.takes = f.quantity(r, "takes", &sorts::TAKES);
    if let Some(node) = f.get(r, "at") {
        match heat_of(r, node) {
            Some(HeatOf::Oven(window, asked)) => (way.temperature, way.asked) = (Some(window), asked),
            Some(HeatOf::Hob(level)) => way.level = Some(level),
            None => r.lost = true,
        }
    }
    way.heats = f.list(r, "heat", |r, node| r.word(node, kitchen::HEATS));
    if let Some(node) = f.get(r, "pan") {
        way.pan = pan(r, node);
        r.lost |= way.pan.is_none();
    }
    way.weight = f.quantity(r, "weight", &sorts::WEIGHT);
    way.hands = f.whole(r, "hands", legal::COUNT);
    way.load = f.quantity(r, "load", &sorts::MINUTES);
    way.unload = f.quantity(r, "unload", &sorts::MINUTES);
    way.shut = f.quantity(r, "shut", &sorts::MINUTES);
    way.wet = f.truth(r, "wet");
    way.dry = f.truth(r, "dry");
    way.cost = f.whole(r, "cost", legal::COST);
    way.touches = f.list(r, "touches", touch);
    way.early = f.quantity(r, "early", &sorts::MINUTES);
    way.late = f.quantity(r, "late", &sorts::MINUTES);
    way.between = f.quantity(r, "between", &sorts::BETWEEN);
    f.not_both(r, "early", "between", "both say how soon it may be done");
    f.not_both(r, "late", "between", "both say how late it may be done");
    way.rack = f.word(r, "rack", RACKS);
    way.uses = kitchen::amounts(f, r, "uses");
    way.stretch = f.get(r, "stretch").and_then(|node| keeps(r, node));
    way
}

enum HeatOf {
    /// The range, and the single temperature that was asked for, if it was one.
    Oven([i64; 2], Option<Temperature>),
    Hob(Level),
}

/// `at: "180 C"` and `at: "170 to 190 C"` in an oven, `at: "medium"` and `at: "3 to 5"` on the hob.
fn heat_of(r: &mut Reading<'_>, node: &Node) -> Option<HeatOf> {
    match &node.value {
        Value::Text(text) if text.contains(|c: char| c.is_ascii_digit()) => {
            if (menu::MARKS.parse)(text).is_ok_and(|marks| (menu::MARKS.legal)(&marks) && marks[1] <= 20) {
                return r.quantity(node, &menu::MARKS).map(|marks| HeatOf::Hob(Level::Marks(marks)));
            }
            let exact =
                Sort { example: "180 C\" in an oven, or on the hob \"medium\" or \"4 to 6", ..sorts::DEGREE_RANGE };
            let ends = r.degree_range(node, &exact)?;
            let asked = (ends[0] == ends[1]).then_some(ends[0]);
            let [low, high] = ends.map(Temperature::whole);
            Some(HeatOf::Oven(asked.map_or([low, high], |_| [low - EITHER_SIDE, high + EITHER_SIDE]), asked))
        }
        Value::Text(_) | Value::Word(_) => r.word(node, LEVELS).map(HeatOf::Hob),
        _ => {
            r.quantity(node, &sorts::DEGREE_RANGE)?;
            None
        }
    }
}

/// A size, or the name of one of the kitchen's pans.
fn pan(r: &mut Reading<'_>, node: &Node) -> Option<PanChoice> {
    match &node.value {
        Value::Text(text) if !text.starts_with(|c: char| c.is_ascii_digit()) => {
            r.named(node, "roasting tin").map(PanChoice::Named)
        }
        _ => r.quantity(node, &sorts::PAN).map(PanChoice::Size),
    }
}

fn touch(r: &mut Reading<'_>, node: &Node) -> Option<Touch> {
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Touch", &["do", "at", "takes"])?;
    let what = f.need(r, "do", "\"Baste\"").and_then(|node| r.text(node, "Baste"));
    let every = f.quantity(r, "every", &sorts::SOME_MINUTES);
    let at = f.quantity(r, "at", &sorts::MINUTES);
    if every.is_none() && at.is_none() {
        f.need(r, "at", "\"30 min\", or every: \"30 min\"");
    }
    let takes = f.quantity(r, "takes", &sorts::SOME_MINUTES).unwrap_or(1);
    let cooks = cooks(&mut f, r);
    f.close(r);
    Some(Touch { what: what?, at: at.or(every)?, takes, every, cooks })
}

/// Who may do it: one name or several.
fn cooks(f: &mut Fields<'_>, r: &mut Reading<'_>) -> Vec<Named> {
    f.list(r, "cook", |r, node| r.named(node, "Odile"))
}

/// Who is there besides: a name, or `With("Odile", "10 min")`.
fn with(r: &mut Reading<'_>, node: &Node) -> Option<With> {
    if matches!(node.value, Value::Text(_)) {
        return r.named(node, "Odile").map(|cook| With { cook, first: None });
    }
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "With", &["cook", "first"])?;
    let cook = f.need(r, "cook", "\"Odile\"").and_then(|node| r.named(node, "Odile"));
    let first = f.quantity(r, "first", &sorts::SOME_MINUTES);
    f.close(r);
    Some(With { cook: cook?, first })
}

/// How food bears waiting: a word, or `Wait(rate: 3, soft: "10 min", after: 10)`.
pub(super) fn keeps(r: &mut Reading<'_>, node: &Node) -> Option<Keeps> {
    let words = [
        ("free", Keeps::Free),
        ("cold", Keeps::Cold),
        ("warm", Keeps::Warm),
        ("hot", Keeps::Hot),
        ("fragile", Keeps::Fragile),
    ];
    if matches!(node.value, Value::Text(_) | Value::Word(_)) {
        return r.word(node, &words);
    }
    let (_, inner) = r.variant(node);
    let mut f = Fields::open(r, inner, &node.span, "Wait", &[])?;
    let rate = f.need(r, "rate", "3").and_then(|node| r.whole(node, legal::COST));
    let soft = f.quantity(r, "soft", &sorts::MINUTES);
    let rate_after = f.whole(r, "after", legal::COST);
    f.close(r);
    let rate = rate?;
    let rate_after = rate_after.unwrap_or(rate);
    if rate_after < rate {
        let cause = format!("waiting would become cheaper: {rate} a minute at first, {rate_after} later");
        r.fault(Code::Contradiction, &node.span, cause, format!("give after: {rate} or more"));
        return None;
    }
    Some(Keeps::Costs(Wait { rate, soft, rate_after }))
}
